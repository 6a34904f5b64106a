package command

import (
	"cabwright/planner"
	"cabwright/planner/planjson"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// specimen is a stone as the commands see it: read, solid and weighed.
type specimen struct {
	stone    planner.Stone
	material presets.Material
	named    bool // material was found in the presets
	rough    *planner.Rough
	gravity  planner.Gravity // what weights are taken with
	warnings []planner.Warning
	set      *presets.Set // that it was read with
}

// presets returns the built-in presets and the cutter's own, with a word on
// standard error about what is passed over in the latter. When their file is
// wrong the error is one of usage: a plan without them would not be the one that
// was asked for.
func (a *app) presets() (*presets.Set, error) {
	if a.loaded != nil {
		return a.loaded, nil
	}
	set, warnings, err := presets.Load()
	if err != nil {
		return nil, usagef("%v: mend the file or move it away", err)
	}
	for _, w := range warnings {
		a.warn(w.String())
	}
	a.loaded = set
	return set, nil
}

// benchPresets is presets for the workbench, which goes on with the built-in
// ones; note is what it says then, or "".
func benchPresets() (set *presets.Set, note string) {
	set, warnings, err := presets.Load()
	switch {
	case err != nil:
		note = err.Error() + ": the built-in presets are used alone"
	case len(warnings) > 0:
		note = warnings[0].String()
	}
	return set, note
}

func materialKeys() []string {
	set, _, _ := presets.Load() // a wrong file gives the built-in set
	var keys []string
	for _, m := range set.Materials {
		keys = append(keys, m.Key)
	}
	return keys
}

// read reads a stone file and lays its surfaces. A material given as a flag
// takes the place of the file's and of its SG.
func (a *app) read(path, material string) (*specimen, error) {
	set, err := a.presets()
	if err != nil {
		return nil, err
	}
	doc, err := a.document(path, set)
	if err != nil {
		return nil, err
	}
	s := &specimen{stone: doc.Stone, warnings: doc.Warnings, set: set}
	if material != "" {
		m, ok := set.Material(material)
		if !ok {
			return nil, unknownMaterial(material, set)
		}
		s.stone.Material, s.stone.SG = m.Key, 0
	}
	s.material, s.named = set.Material(s.stone.Material)
	if s.rough, err = planner.NewRough(s.stone); err != nil {
		return nil, &stonefile.Error{File: path, What: err.Error(), Err: err}
	}
	s.gravity = planner.GravityOf(s.stone, set, s.rough.Volume())
	return s, nil
}

// stdin is the name that stands for standard input.
const stdin = "-"

// document reads a stone file, or standard input.
func (a *app) document(path string, set *presets.Set) (*stonefile.Document, error) {
	if path == stdin {
		return stonefile.ReadFrom(a.std.In, "standard input", set)
	}
	return stonefile.Read(path, set)
}

func unknownMaterial(key string, set *presets.Set) error {
	var keys []string
	for _, m := range set.Materials {
		keys = append(keys, m.Key)
	}
	hint := planner.DidYouMean(key, keys)
	if hint == "" {
		hint = ":"
	}
	return usagef("--material %q is not in the presets%s cabwright presets materials lists them", key, hint)
}

// head returns what JSON is headed with.
func (s *specimen) head() planjson.Rough {
	return planjson.Rough{Material: s.stone.Material, SG: s.gravity.Likely, Volume: s.rough.Volume()}
}
