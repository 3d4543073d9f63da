package cases

import "bushtune/bushing/quantity"

// Number is one number of the study: a definition, the case it is read in and
// where on the axle.
type Number struct {
	Name    string // "lateral_force_steer"
	Title   string // "lateral-force steer"
	Case    string // name of the case or state
	Where   string // "" unless the definition has more than one place: "centre", "patch", "body", "ground"
	Pads    Pads
	Unit    quantity.Unit
	Signs   quantity.Signs
	Step    float64 // just-noticeable step in the written unit: the default scale of a want
	Formula string
	Generic bool   // a plain reading of the case, not a number with a name of its own
	NoParts string // why the number has no additive parts; empty if it has
}

// Figure is one printed number. Text and Words are decided here and nowhere
// else; Value is the full number in the written unit.
type Figure struct {
	Number string
	Title  string
	Case   string
	Where  string
	Pads   string
	Value  float64 // in Unit
	Unit   string
	Text   string // Value, rounded to a tenth of the just-noticeable step
	Words  string // the word for the sign of Text
}

// Absent is a number that is not offered and the vehicle values it needs.
type Absent struct {
	Number, Title string
	Needs         []string
}
