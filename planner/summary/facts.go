package summary

import (
	"cmp"
	"fmt"
	"strings"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/search"
	"cabwright/presets"
)

// Facts are what a listing tells of a stone.
type Facts struct {
	Name        string
	Kind        string // the material
	Finished    bool   // else it is planned only
	Date        string // of the finish
	Carat       float64
	Size        [3]float64  // length, width, height in mm; zero: not known
	Measured    bool        // the size was measured, not planned
	Fit         *search.Fit // that it was to become; nil: not kept
	Sides       int
	Colour      string   // grade and pattern under its face, "": none recorded
	Disclosures []string // treatments and care, whole sentences
	None        bool     // no treatment is recorded
	Photo       string
}

// Of gathers the facts of a stone. fit is the one it was to become, nil when no
// entry kept one; colour describes what lies under its face; measured is the size
// of the finished stone by calipers, zero when it was not taken.
func Of(s planner.Stone, material presets.Material, fit *search.Fit, colour string, measured [3]float64) Facts {
	f := Facts{
		Name:        s.Name,
		Kind:        cmp.Or(material.Name, s.Material),
		Fit:         fit,
		Colour:      colour,
		Disclosures: diary.Disclosures(s, material),
	}
	sealed := false
	for _, k := range s.Cracks {
		sealed = sealed || k.Sealed
	}
	f.None = !sealed && len(diary.Treatments(s)) == 0
	entry, done := diary.Finished(s)
	f.Finished = done
	if done {
		f.Date, f.Carat = day(entry.Date), entry.Carat
	}
	for _, e := range s.Diary {
		f.Photo = cmp.Or(e.Photo, f.Photo)
	}
	if fit != nil {
		f.Sides = fit.Solid.Sides
		o := fit.Solid.Outline
		f.Size = [3]float64{o.Length, o.Width, fit.Solid.Height()}
		if !done {
			f.Carat = fit.Carat
		}
	}
	if measured != ([3]float64{}) {
		f.Size, f.Measured = measured, true
	}
	return f
}

func day(date string) string {
	d, _, _ := strings.Cut(date, "T")
	return d
}

// Row is one fact with its name.
type Row struct{ Name, Value string }

// Rows returns the facts in the order in which they are read.
func (f Facts) Rows() []Row {
	var rows []Row
	add := func(name, value string) {
		if value != "" {
			rows = append(rows, Row{name, value})
		}
	}
	add("Kind", f.Kind)
	switch {
	case f.Finished && f.Carat > 0:
		add("Weight", fmt.Sprintf("%.2f ct (%.3f g)", f.Carat, f.Carat/planner.CaratsPerGram))
	case f.Finished:
		add("Weight", "not weighed")
	case f.Carat > 0:
		add("Weight", fmt.Sprintf("%.2f ct planned, not cut yet", f.Carat))
	}
	if f.Size[0] > 0 {
		how := "planned"
		if f.Measured {
			how = "measured"
		}
		add("Size", fmt.Sprintf("%.1f x %.1f x %.1f mm, %s", f.Size[0], f.Size[1], f.Size[2], how))
	}
	if f.Fit != nil {
		add("Outline", f.Fit.Solid.Outline.Shape)
		add("Cut", map[int]string{1: "cabochon, flat back", 2: "cabochon, domed on both sides"}[f.Sides])
	}
	add("Colour", f.Colour)
	if f.None {
		add("Treatments", "none recorded")
	}
	add("Finished", f.Date)
	add("Photograph", f.Photo)
	return rows
}

// Title is the stone's name.
func (f Facts) Title() string {
	if strings.TrimSpace(f.Name) == "" {
		return "Unnamed stone"
	}
	return f.Name
}
