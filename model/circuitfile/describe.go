package circuitfile

// describedSorts says what each sort of record is, for the JSON Schema.
var describedSorts = map[string]string{
	"vessel":     "A tank: one that stores a medium, or one to be cleaned.",
	"pump":       "Moves liquid from its suction to its discharge.",
	"valve":      "Opens, shuts, regulates or diverts.",
	"exchanger":  "Heats or cools the circuit's liquid.",
	"spray":      "Brings cleaning liquid onto the wall of a vessel.",
	"instrument": "Measures.",
	"fitting":    "A tee, reducer, cap, strainer, sight glass, hose and the like.",
	"terminal":   "Where liquid, steam, air or current enters or leaves the circuit.",
	"object":     "Something to be cleaned whose inside is not drawn.",
	"frame":      "A boundary or a box on the drawing.",
	"run":        "A pipe run between two ports.",
	"step":       "One phase of a wash programme with its line-up.",
	"deviation":  "A finding that a named person accepted with a reason.",
	"mark":       "A reviewer's note, pinned to a part, a run or the drawing.",
	"answer":     "An answer to a question of the checklist.",
}

// describedKeys says what each key means, for the JSON Schema. Where a key means
// something of its own in one sort of object, that stands before it. A test holds
// that none is missing and none left over.
var describedKeys = map[string]string{
	// the file
	"schema":  "Tells a circuit file from others",
	"version": "Format of the file",
	"circuit": "What the circuit says of itself",
	"parts":   "All parts, in order of id",
	"runs":    "All pipe runs, in order of id",
	"steps":   "All wash steps, in order of programme and place",

	"deviations": "Accepted findings, in order of finding; left out if there are none",
	"marks":      "Reviewers' marks, in order of number; left out if there are none",
	"answers":    "Answers to the checklist, in order of question; left out if there are none",

	// the circuit
	"plant":    "The plant it stands in",
	"author":   "Who drew it",
	"revision": "Revision of the drawing",
	"date":     "Day on which it was done",
	"profile":  "Set of limits that it is checked against",

	"customer":       "For whom it is drawn",
	"project":        "Project that it belongs to",
	"drawing_number": "Number of the drawing",
	"sheet":          "Sheet of the drawing",
	"revisions":      "Table of revisions, oldest first",
	"mark":           "Letter or number of the revision",
	"by":             "Who did it",
	"what":           "What was changed",
	"limits":         "Limits of the profile that were changed for this circuit",
	"limit":          "Name of the limit in the profile",
	"value":          "Value that counts instead of the profile's, in the unit told",
	"unit":           "Key of the unit, as in the profile",
	"reason":         "Why",

	"a revision: date": "Date of the revision, as in the title block",

	"programmes":        "How often wash programmes run; each stands once",
	"per_week":          "Runs a week on average",
	"a frequency: name": "Name of the programme; empty for the steps that name none",
	"service":           "How far apart services are, by kind of part; each stands once",
	"an interval: kind": "Kind of part, an entry of the catalogue",
	"hours":             "Hours that it runs between two services",
	"switchings":        "Switchings between two services",
	"months":            "Months between two services",
	"serviced":          "Day of the last service",

	// every record
	"id":   "Names the record for its whole life; no two records share one",
	"tag":  "Tag on the drawing and in the plant",
	"name": "Name as shown",
	"note": "Remark",

	// every part
	"class":       "Sort of part; tells which keys it may have",
	"kind":        "Entry of the catalogue",
	"at_mm":       "Place on the drawing, x to the right and y down (mm)",
	"turn":        "Quarter turns clockwise",
	"mirrored":    "Mirrored left to right, before it is turned",
	"elevation_m": "Height of the part's reference point above the plant's zero",

	// sizes and what a part holds
	"size":              "Tube size, as in a published table: EN 10357-A DN50",
	"inlet_size":        "Tube size of the return, fill and spray nozzles",
	"outlet_size":       "Tube size of the discharge",
	"second_size":       "Tube size of the small end, the branch or the other line",
	"service_size":      "Tube size of the service side",
	"hold_up_L":         "Liquid that it holds",
	"service_hold_up_L": "Liquid that its service side holds",

	// vessels
	"holds":            "Medium that it holds",
	"diameter_m":       "Inside diameter",
	"height_m":         "Inside height from the outlet to the top",
	"bottom":           "Form of the bottom",
	"top":              "Form of the top",
	"working_volume_L": "Volume when full in service",
	"level_m":          "Liquid above the outlet",
	"gas_bar":          "Gauge pressure of the gas above the liquid",
	"agitated":         "Has an agitator",
	"vented":           "Open to the air through a vent that cannot be shut",

	"low_level_m":         "Level above the outlet below which nothing is drawn",
	"start_temperature_C": "Temperature of what it holds before a programme",
	"wall_mm":             "Thickness of the steel",
	"insulation_mm":       "Thickness of the insulation; 0 for none",

	// what a vessel, an object or a supply is to the chemistry
	"soil":             "What the wash is to take off",
	"material":         "Material of the wall",
	"gas":              "Gas above the liquid",
	"rated_vacuum_bar": "Pressure below the air around that the vessel stands",
	"vent_size":        "Tube size of a vent that is not drawn",
	"overflow_size":    "Tube size of an overflow that is not drawn",
	"baffled":          "Has baffles",
	"bund":             "Name of the bund that catches what leaks",
	"backflow":         "What keeps liquid from running back into the supply",
	"turned_to_drain":  "The body of a diaphragm valve stands at its mark, so that it drains",

	// pumps
	"rated_flow_m3h":       "Flow at the rated point",
	"rated_head_m":         "Head at the rated point",
	"curve":                "Points of the curve at the rated speed",
	"head_m":               "Head at this flow",
	"efficiency_pct":       "Efficiency at the rated point",
	"npsh_required_m":      "NPSH required at the rated point",
	"motor_kW":             "Rated power of the motor",
	"motor_efficiency_pct": "Efficiency of the motor with its converter",
	"rated_speed_rpm":      "Rated speed",
	"self_priming":         "Can draw air",
	"casing_drain":         "The casing drains",
	"outlet_way":           "Way the outlet points",

	// valves
	"seat_a_mm":      "From the face of port a to the closed seat",
	"seat_b_mm":      "From the face of port b to the closed seat",
	"seat_c_mm":      "From the face of port c to the closed seat",
	"kv_m3h":         "Flow coefficient Kv: water at 1 bar",
	"normal":         "Position while nothing moves it",
	"actuation":      "How it is moved",
	"lockable":       "Can be locked shut with a padlock or by locking off its air",
	"fails_to":       "Where it goes when its air or current fails",
	"position_proof": "Reports where it stands",
	"set_bar":        "Gauge pressure at which it opens by itself",
	"seal":           "Seal material",

	// exchangers
	"area_m2":                "Area of heat transfer",
	"coefficient_Wm2K":       "Overall coefficient of heat transfer",
	"duty_kW":                "Heat at the design point",
	"pressure_drop_bar":      "Pressure drop of the liquid side at the rated flow",
	"rated_pressure_bar":     "Pressure at the rated point",
	"over_temperature_limit": "Has a limit that does not depend on the control",

	// spray devices
	"least_pressure_bar": "Least pressure at which it works",
	"most_pressure_bar":  "Most pressure at which it works",

	// instruments and fittings
	"letters":        "ISA-5.1 letters, where they differ from the kind's",
	"stub_mm":        "Length of the pocket or branch from the inner wall of the main",
	"pocket_bore_mm": "Bore of the pocket",
	"set_at":         "Alarm or switching point, in words",
	"run_mm":         "Face to face along the main",
	"branch_way":     "Way the branch points",
	"flat_side":      "Flat side of an eccentric reducer",
	"lie":            "How it lies in the plant",
	"mesh_mm":        "Width of the mesh",

	// terminals
	"medium":            "What flows",
	"pressure_bar":      "Gauge pressure",
	"temperature_C":     "Temperature",
	"strength_pct":      "Mass of the agent in 100 of solution",
	"air_gap_mm":        "Height of the air gap",
	"conductivity_mScm": "Conductivity of the water that it supplies, at 25 °C",

	// objects
	"needs_flow_m3h":   "Flow that it needs to be cleaned",
	"smallest_bore_mm": "Smallest bore inside",
	"largest_bore_mm":  "Largest bore inside",
	"self_draining":    "Runs empty by itself",

	// frames
	"width_mm": "Width on the drawing",
	"depth_mm": "Depth on the drawing",
	"text":     "Words in the frame",

	// runs
	"from":      "End that its stretches begin at",
	"to":        "End that its stretches lead to",
	"part":      "Part that the end is joined to; absent: a loose end",
	"port":      "Port of that part",
	"stretches": "Straight pieces from one end to the other",
	"length_m":  "Length",
	"rise_m":    "Rise of the far end above the near end; negative falls",
	"elbows":    "Number of 90° bends of the tube",
	"bends_mm":  "Bends of its line on the drawing",
	"label_mm":  "Middle of the tag or label on the drawing, from the part's place or the middle of the run's line; absent: where there is room",
	"carries":   "What it carries, for its colour when no step says",

	// steps
	"chemical":              "Agent that the strength is of",
	"pump_speed_pct":        "Speed of the pumps, of the rated speed; where no flow is asked",
	"end_conductivity_mScm": "Conductivity of the return, as a meter corrects it to 25 °C, at which the step ends: risen to it by a chemical, fallen to it by any other medium",
	"end_temperature_C":     "Temperature of the return at which the step ends",
	"end_volume_L":          "Volume sent at which the step ends",
	"timer_from":            "When the time of the step begins to count",
	"longest_min":           "Time after which the step ends in any case",
	"optional":              "Not done every time",
	"programme":             "Programme that it belongs to",
	"order":                 "Place in the programme, ascending",
	"purpose":               "What it is for",
	"flow_m3h":              "Flow",
	"time_min":              "Time that it takes",
	"ends_on":               "End condition, in words",
	"source":                "Terminal or vessel that the liquid comes from",
	"destination":           "Terminal or vessel that it goes to",
	"cleans":                "Vessels and objects washed in this step",
	"positions":             "Valves that do not stand in their normal position, and where they stand",
	"running":               "Pumps that run",

	// places
	"element": "Record that the place is of",
	"first":   "First stretch of a run, counted from 1; absent: the whole run",
	"last":    "Last stretch of a run",
	"key":     "Property of the record",

	// deviations
	"rule":               "Rule that reports it",
	"finding":            "Id of the finding, the same over revisions",
	"places":             "Where the finding was",
	"gravest":            "Severity that is accepted at most; absent: any",
	"was":                "What it was of, in words, when it was last there",
	"expires":            "Last day on which it holds; absent: no end",
	"reference":          "Document that it rests on",
	"a deviation: steps": "Wash steps in which it is accepted; absent: in whichever the finding holds",

	// marks
	"number":          "Number as shown",
	"a mark: class":   "What it asks for",
	"a mark: text":    "The note",
	"pin":             "Where it sits; absent: on the circuit as a whole",
	"attachments":     "Names or paths of files that belong to it",
	"history":         "What was said and done, oldest first",
	"on":              "Part or run that it is about; absent: the drawing or the whole circuit",
	"along_pct":       "Share of the run's drawn line from its beginning; absent: its middle",
	"to_mm":           "Opposite corner of an area on the drawing (mm)",
	"an entry: at":    "When (UTC)",
	"an entry: state": "State of the mark from then on; absent: the one it had",
	"an entry: text":  "What was said",

	// answers
	"question": "Id of the question in its checklist",
	"answer":   "What was answered",
	"evidence": "What the answer rests on",
}
