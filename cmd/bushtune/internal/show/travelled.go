package show

import (
	"io"
	"math"
	"strings"

	"bushtune/cases"
)

// Motion is one travel with its words.
type Motion struct {
	Name, Title string // "together"; "both wheels together"
	Answer      *cases.Travelled
	Lost        string // why it goes no further than it does; empty if it goes to its ends
}

// Travelled is the answer to travel.
type Travelled struct {
	Noted
	Title, Source string // of the file
	Study         *cases.Study
	Motions       []Motion
	Bushes        bool // every bush at every height, not only its extremes
}

// travelTopics are the tables of a travel in the order of a rig report.
var travelTopics = []topic{
	{"TOE, CAMBER AND WIND-UP", []string{"wheel_toe", "wheel_camber", "camber_to_ground", "wheel_wind_up"}, ""},
	{"TRACK, WHEELBASE, ROLL ANGLE AND PAD FORCE", []string{"track", "wheelbase", "roll_angle", "pad_load"}, ""},
	{"WHERE THE WHEELS ARE", []string{"centre_x", "centre_y", "centre_z", "patch_x", "patch_y", "patch_z"}, ""},
	{"WHEEL RATE AND RIDE RATE, a small movement more at each height", []string{"wheel_rate", "ride_rate"}, ""},
	{"BUMP, a small movement more of both wheels at each height", []string{"bump_steer", "bump_camber", "track_change", "wheelbase_change"}, ""},
	{"ROLL, a small roll more at each height", []string{"roll_rate", "roll_steer", "roll_camber"}, ""},
	{"ROLL CENTRE", []string{"roll_centre_kinematic", "roll_centre_force"}, ""},
	{"WHO MAKES THE ROLL RATE", []string{"roll_rate_share"}, "share of the roll rate: "},
	{"ANTI-LIFT, a small braking force at each height", []string{"anti_lift_percent", "anti_lift_angle"}, ""},
	{"INSTANT SCREW AXIS, of the virtual semi-trailing arm", []string{"screw_"}, "screw axis, "},
	{"CROSS-MEMBER STRESS, nominal: no fatigue verdict", []string{"stress_"}, ""},
}

// Text writes the answer for a person.
func (t *Travelled) Text(p *Page) {
	v := newView(t.Study, nil)
	v.head(p, t.Title, t.Source)
	var all []cases.Series
	var warnings []string
	for _, m := range t.Motions {
		p.blank()
		p.Heading("TRAVEL: " + m.Title)
		p.lost(m.Lost)
		for i := range travelTopics {
			curveTables(p, strings.ToUpper(m.Name)+" · "+travelTopics[i].heading, curvesOf(m.Answer.Series, &travelTopics[i]))
		}
		bushTables(p, strings.ToUpper(m.Name)+" · ", m.Answer.Series, t.Bushes)
		all = append(all, m.Answer.Series...)
		warnings = append(warnings, m.warnings()...)
	}
	definitions(p, all)
	footnotes(p, warnings)
	foot(p)
}

// warnings are those of the travel, and why it goes no further.
func (m *Motion) warnings() []string { return append(lostNotes(m.Lost), m.Answer.Warnings...) }

// bushTables writes how far every bush goes and what it carries, its limits, and
// if asked for every direction of every bush at every x.
func bushTables(p *Page, before string, series []cases.Series, every bool) {
	p.blank()
	p.Heading(before + "BUSHES over the whole range: travel of the rubber, load with that at rest")
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {}, {align: point}, {align: point}, {}}}
	g.add("", "", "travel", "to", "", "load", "to", "")
	for i := range series {
		s := &series[i]
		if s.Number != "bush_travel" {
			continue
		}
		element, direction, _ := strings.Cut(s.Where, " ")
		cells := append([]string{"  " + element, direction}, extremes(s)...)
		if i+1 < len(series) && series[i+1].Number == "bush_load" {
			cells = append(cells, extremes(&series[i+1])...)
		}
		g.add(cells...)
	}
	g.write(p)
	limitTable(p, before, series)
	if every {
		everyBush(p, before, series)
	}
}

// extremes are the least and the largest value of a curve, and the unit.
func extremes(s *cases.Series) []string {
	least, most := math.Inf(1), math.Inf(-1)
	for _, q := range s.Points {
		least, most = min(least, q.Value), max(most, q.Value)
	}
	return []string{textOf(s, least), textOf(s, most), s.Unit}
}

// limitTable compares bushes with the limits that the file gives.
func limitTable(p *Page, before string, series []cases.Series) {
	g := grid{columns: []column{{}, {}, {align: point}, {}, {align: point}, {align: point}, {}}}
	for i := range series {
		s := &series[i]
		if s.Limit <= 0 {
			continue
		}
		worst := cases.Point{}
		for _, q := range s.Points {
			if math.Abs(q.Value) > math.Abs(worst.Value) {
				worst = q
			}
		}
		verdict := cell{"within", good}
		if math.Abs(worst.Value) > s.Limit {
			verdict = cell{"over its limit", bad}
		}
		g.addCells(words("  "+s.Where), words(strings.TrimPrefix(s.Title, "bush ")), words(measure(worst.Value)), words(s.Unit+" at"),
			words(measure(worst.X)), words(measure(s.Limit)), verdict)
	}
	if len(g.rows) == 0 {
		return
	}
	p.blank()
	p.wrappedHeading(before + "BUSHES AGAINST THEIR LIMITS: the largest over the range, where, the limit")
	g.write(p)
}

// everyBush writes the curves of every bush.
func everyBush(p *Page, before string, series []cases.Series) {
	byBush := map[string][]curve{}
	var order []string
	for i := range series {
		s := &series[i]
		element, direction, found := strings.Cut(s.Where, " ")
		if !found || !strings.HasPrefix(s.Number, "bush_") {
			continue
		}
		key := element + ", " + strings.TrimPrefix(s.Title, "bush ")
		if byBush[key] == nil {
			order = append(order, key)
		}
		byBush[key] = append(byBush[key], curve{s, strings.ReplaceAll(direction, "_", " "), ""})
	}
	for _, key := range order {
		curveTables(p, before+key, byBush[key])
	}
}

// records is the answer for programs.
func (t *Travelled) records() []Record {
	v := newView(t.Study, nil)
	var list, notes []Record
	var all []cases.Series
	for _, m := range t.Motions {
		list = append(list, v.curveRecords(m.Name, "", m.Answer.Series)...)
		all = append(all, m.Answer.Series...)
		notes = append(notes, v.noteRecords(m.warnings())...)
	}
	return append(append(list, v.definitionRecords(all)...), notes...)
}

// JSON writes the answer for programs.
func (t *Travelled) JSON(w io.Writer) error { return writeJSON(w, t.noted(t.records())) }

// CSV writes the answer for programs.
func (t *Travelled) CSV(w io.Writer) error { return writeCSV(w, t.noted(t.records())) }
