package fluid

import "rinsewright/model/quantity"

// The texts on which several bases rest.
const (
	lalibertePaper    = "M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725; coefficients from the copy in the open-source ChEDL property library"
	laliberteDensity  = "specific volumes of water (IF97) and solute mixed by mass"
	laliberteHeat     = "heat capacities of water (IF97) and solute mixed by mass"
	crcViscosity      = "CRC Handbook of Chemistry and Physics, 102nd ed., Concentrative Properties of Aqueous Solutions, 20 °C"
	ratioModel        = "viscosity of water (IAPWS R12-08) times the ratio to water at 20 °C"
	ratioStanding     = "ratio at 20 °C read in a public copy of the table; held at other temperatures: common practice, no source; allow 5 %"
	phreeqcSource     = "geochemistry code PHREEQC, database phreeqc.dat"
	phreeqcStanding   = "computed; within 3.5 % of the CRC table at 20 °C; nothing published found for 60 to 85 °C: allow 5 %"
	vapourModel       = "saturation pressure of pure water (IAPWS R7-97), an upper bound"
	waterRelease      = "IAPWS R7-97(2012), R12-08"
	waterStanding     = "read: verification tables of the releases reproduced to all digits"
	asWater           = "as water"
	asWaterPractice   = "common practice, no source"
	kohlrauschSquares = "conductivity per strength linear in the square root of strength (Kohlrausch), linear in temperature"
)

// substances holds the media in the order in which they are offered.
var substances = []*substance{
	asWaterSubstance(PureWater, "water", 0, 150, waterStanding),
	asWaterSubstance(RecoveredWater, "recovered water", 0, 150, asWaterPractice+"; its load is not known"),
	{
		medium: Caustic, name: "sodium hydroxide solution",
		density: basis(Caustic, DensityProperty, laliberteDensity, lalibertePaper,
			"read (coefficients); within 0.15 % of published density tables to 4 % w/w, 0.35 % to 19 %", 0, 50, 4, 120),
		viscosity: basis(Caustic, ViscosityProperty, ratioModel, crcViscosity, ratioStanding, 0, 20, 4, 120),
		heat: basis(Caustic, HeatCapacityProperty, laliberteHeat, lalibertePaper,
			"read (coefficients)", 0, 30, 4, 120),
		vapour: basis(Caustic, VapourPressureProperty, vapourModel, waterRelease, waterStanding, 0, 20, 4, 120),
		conductivity: ref(basis(Caustic, ConductivityProperty, kohlrauschSquares, phreeqcSource,
			phreeqcStanding, 0, 5, 20, 85)),
		perKelvin: to25(0.0194),
		solute: &solute{
			c:          [5]float64{319.020509469838, 528.592358475315, -0.102197896602724, 0.000350420706415566, 765.970470238438},
			a:          [6]float64{-0.922780764834469, -0.0412353462450485, 1.8722524604359, -5.94223565147303, 3.13007617842649, 0.141040805508813},
			densityLow: 4, densityHigh: 120, heatLow: 4, heatHigh: 120,
		},
		thickening: thickening(
			[]float64{0, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20},
			[]float64{1.002, 1.027, 1.054, 1.112, 1.176, 1.248, 1.329, 1.416, 1.51, 1.616, 1.737, 1.882, 2.201, 2.568, 3.043, 3.698, 4.619}),
		conducts: newConductionGrid([]float64{0.1, 0.5, 1, 2, 3, 5}, gridTemperatures, [][]float64{
			{5.26, 5.76, 7.28, 9.24, 10.64, 11.51},
			{24.62, 26.95, 33.92, 42.88, 49.16, 53.08},
			{47.29, 51.73, 64.93, 81.82, 93.60, 100.91},
			{90.17, 98.51, 123.22, 154.61, 176.34, 189.75},
			{131.11, 143.11, 178.54, 223.32, 254.16, 273.12},
			{209.54, 228.35, 283.70, 353.13, 400.57, 429.55},
		}),
	},
	{
		medium: NitricAcid, name: "nitric acid",
		density: basis(NitricAcid, DensityProperty, laliberteDensity, lalibertePaper,
			"read (coefficients); within 0.15 % of published density tables to 11 % w/w", 0, 70, 0, 95),
		viscosity: basis(NitricAcid, ViscosityProperty, ratioModel, crcViscosity, ratioStanding, 0, 20, 0, 95),
		heat: basis(NitricAcid, HeatCapacityProperty, laliberteHeat, lalibertePaper,
			"read (coefficients)", 0, 6.5, 5, 95),
		vapour: basis(NitricAcid, VapourPressureProperty, vapourModel, waterRelease, waterStanding, 0, 6.5, 0, 95),
		conductivity: ref(basis(NitricAcid, ConductivityProperty, kohlrauschSquares, phreeqcSource,
			phreeqcStanding, 0, 5, 20, 85)),
		perKelvin: to25(0.0147),
		solute: &solute{
			c:          [5]float64{0.272070788161643, -0.399605969016834, -2.33691977745914, 0.00662112384275969, -3089.01794099058},
			a:          [6]float64{-0.337794277610799, -0.0435222748497721, 1.76713518805669, -2.09327974333762, 3.34739334397655, 0.739891954672814},
			densityLow: -10, densityHigh: 95, heatLow: 5, heatHigh: 120,
		},
		thickening: thickening(
			[]float64{0, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20},
			[]float64{1.002, 1.004, 1.005, 1.007, 1.01, 1.014, 1.018, 1.022, 1.027, 1.032, 1.038, 1.044, 1.058, 1.075, 1.094, 1.116, 1.141}),
		conducts: newConductionGrid([]float64{0.1, 0.5, 1, 2, 5}, gridTemperatures, [][]float64{
			{5.96, 6.41, 7.71, 9.25, 10.25, 10.85},
			{28.97, 31.16, 37.34, 44.61, 49.31, 52.07},
			{56.86, 61.10, 73.05, 87.03, 96.00, 101.24},
			{110.42, 118.52, 141.19, 167.48, 184.18, 193.86},
			{254.28, 272.10, 321.39, 377.29, 411.88, 431.49},
		}),
	},
	{
		medium: PhosphoricAcid, name: "phosphoric acid",
		density: basis(PhosphoricAcid, DensityProperty, laliberteDensity+"; below 15.85 and above 81.4 °C the solute's share is held",
			lalibertePaper, "read (coefficients); held outside the fitted temperatures: common practice, no source", 0, 85, 5, 95),
		viscosity: basis(PhosphoricAcid, ViscosityProperty, ratioModel, crcViscosity, ratioStanding, 0, 20, 5, 95),
		heat: basis(PhosphoricAcid, HeatCapacityProperty, laliberteHeat+"; below 24.7 °C the solute's share is held",
			lalibertePaper, "read (coefficients); held below the fitted temperatures: common practice, no source", 0, 50, 5, 95),
		vapour: basis(PhosphoricAcid, VapourPressureProperty, vapourModel, waterRelease, waterStanding, 0, 20, 5, 95),
		conductivity: ref(basis(PhosphoricAcid, ConductivityProperty, "row at 20 °C, 1.02 % per kelvin",
			"CRC Handbook of Chemistry and Physics, Electrical Conductivity of Aqueous Solutions; coefficient of Kohlrausch",
			"from memory of both; verify against your copy", 0.5, 5, 15, 30)),
		perKelvin: to25(0.0104),
		solute: &solute{
			c:          [5]float64{1288.25499332174, -4126.67487464815, -4.64682626086799, 0.00466168016728373, -944.459685828192},
			a:          [6]float64{-295.001660901465, -0.0000248598250364104, 0.000815232853845397, -0.00368569996846081, 295.592796362147, -0.000861839865888545},
			densityLow: 15.85, densityHigh: 81.4, heatLow: 24.704, heatHigh: 101.09,
		},
		thickening: thickening(
			[]float64{0, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20},
			[]float64{1.002, 1.01, 1.02, 1.05, 1.079, 1.108, 1.138, 1.169, 1.2, 1.232, 1.267, 1.303, 1.382, 1.469, 1.565, 1.671, 1.788}),
		conducts: &conductionLine{
			row:       newCurve([]float64{0.005, 0.01, 0.02, 0.05}, []float64{0.55, 1.01, 1.62, 3.15}),
			celsius:   20,
			perKelvin: 0.0104 / (1 + 2*0.0104), // from 18 to 20 °C
		},
	},
	asWaterSubstance(PeraceticAcid, "peracetic acid", 0.5, 95, asWaterPractice+"; the product's hydrogen peroxide and acetic acid add less than 1 % to the density"),
}

// gridTemperatures are those of the conductivity tables, in °C.
var gridTemperatures = []float64{20, 25, 40, 60, 75, 85}

func basis(m Medium, p Property, model, source, standing string, lowPercent, highPercent, lowCelsius, highCelsius float64) Basis {
	return Basis{
		Medium: m, Property: p, Model: model, Source: source, Standing: standing,
		LowStrength: quantity.Strength(lowPercent / 100), HighStrength: quantity.Strength(highPercent / 100),
		LowTemperature: quantity.Celsius(lowCelsius), HighTemperature: quantity.Celsius(highCelsius),
	}
}

func ref(b Basis) *Basis { return &b }

// asWaterSubstance is a medium with the properties of water up to a strength.
func asWaterSubstance(m Medium, name string, highPercent, highCelsius float64, standing string) *substance {
	of := func(p Property) Basis {
		return basis(m, p, asWater, waterRelease, standing, 0, highPercent, 0, highCelsius)
	}
	return &substance{
		medium: m, name: name,
		density: of(DensityProperty), viscosity: of(ViscosityProperty),
		heat: of(HeatCapacityProperty), vapour: of(VapourPressureProperty),
	}
}

// thickening makes the curve of the ratio to water of viscosities in mPa·s at
// strengths in per cent, of which the first is water.
func thickening(percent, viscosity []float64) curve {
	w := make([]float64, len(percent))
	ratio := make([]float64, len(percent))
	for i := range percent {
		w[i] = percent[i] / 100
		ratio[i] = viscosity[i] / viscosity[0]
	}
	return newCurve(w, ratio)
}

// to25 moves a linear temperature coefficient from a base of 18 to 25 °C.
func to25(at18 float64) float64 { return at18 / (1 + 7*at18) }
