package window

// cautionShort stands where findings of hot or chemical steps are shown.
const cautionShort = "An aid for qualified people: verify on site; follow local codes, lock-out rules, supplier data."

// cautionLong stands in the help menu.
const cautionLong = `What the program shows is an aid for qualified people. It does not replace a survey of the plant, a risk assessment or licensed practice.

Hot caustic and acid burn. Steam and liquid under pressure burn and strike. Vessels are confined spaces, and cooling after a hot step can draw a closed vessel in.

Verify every length, height, size and valve on site before you rely on a result. Follow local codes, the site's lock-out rules and permits, the safety data sheets, and the data of the suppliers of devices, seals and cleaning agents.

A finding that is absent proves nothing: see what could not be assessed, and what each rule says it does not see.`
