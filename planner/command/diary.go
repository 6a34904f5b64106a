package command

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
)

const diaryHelp = `Shows the diary of a stone, from the lot to the sale, or adds an entry to it. An entry keeps
the stone as it was and the fit that was meant; entries are added and never changed. What
was found takes the place of what was thought, stone ground off takes its marks along, and
the plan made anew says what the best fit is now, what it lost and to which mark.

Stages: bought, dry, first grind, sealed, sawn, preform, dried, polished, sold.`

const diaryExample = `  cabwright diary river.stone                               all entries, whether it is dry
  cabwright diary river.stone --show 2                      the stone as it was at entry 2
  cabwright diary river.stone --show 2,4                    two of them beside each other
  cabwright diary river.stone add --stage bought --carat 26.3 --state dry
  cabwright diary river.stone add --stage "first grind" --ground 0.7 --face top --found P1.depth=3.2
  cabwright diary river.stone add --stage sealed --seal C1,C3 --no-plan`

type diaryFlags struct {
	search                                 searchFlags
	show                                   []string
	date, stage, carat, state, note, photo string
	treatments, found, seal                []string
	ground, at, radius                     string
	noPlan, ascii, asJSON                  bool
}

func (a *app) diaryCommand() *cobra.Command {
	var f diaryFlags
	cmd := &cobra.Command{
		Use:     "diary FILE [add]",
		Short:   "Show a stone's diary, or add to it",
		Long:    diaryHelp,
		Example: diaryExample,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("diary needs a stone file: %s", cmd.UseLine())
			}
			if len(args) > 2 || len(args) == 2 && args[1] != "add" {
				return usagef("diary %q: after the file only the word add can stand", strings.Join(args[1:], " "))
			}
			return nil
		},
		ValidArgsFunction: completeStone,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 2 {
				return a.diaryAdd(cmd.Context(), args[0], f)
			}
			for _, name := range addingFlags {
				if cmd.Flags().Changed(name) {
					return usagef("--%s goes with add: cabwright diary FILE add --%s ...", name, name)
				}
			}
			return a.diaryShow(args[0], f)
		},
	}
	f.register(cmd)
	return cmd
}

// addingFlags are those that only an entry to be made has.
var addingFlags = []string{
	"date", "stage", "carat", "state", "note", "photo", "treatment", "found", "seal", "ground", "at", "radius",
	"no-plan",
}

func (f *diaryFlags) register(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringSliceVar(&f.show, "show", nil, "show the stone as it was at an entry, or at two: 2 or 2,4")
	flags.BoolVar(&f.ascii, "ascii", false, "draw with ASCII signs only")
	flags.BoolVar(&f.asJSON, "json", false, "print the diary as JSON")
	flags.StringVar(&f.date, "date", "", "the day, as 2026-05-02 (default: today)")
	flags.StringVar(&f.stage, "stage", "", "what was done: "+strings.Join(diary.StageNames(), ", "))
	flags.StringVar(&f.carat, "carat", "", "weight in carats")
	flags.StringVar(&f.state, "state", "", "dry or wet when it was weighed (default: dry)")
	flags.StringVar(&f.note, "note", "", "a note")
	flags.StringVar(&f.photo, "photo", "", "where a photograph of it is")
	flags.StringArrayVar(
		&f.treatments, "treatment", nil, "a treatment to be disclosed: glue, resin, dye, smoke, ...; once for each",
	)
	flags.StringSliceVar(
		&f.found, "found", nil, "what was found, in mm, such as P1.depth=3.2 (depth, run_on, top, bottom)",
	)
	flags.StringSliceVar(&f.seal, "seal", nil, "cracks that were filled with glue, such as C1,C3")
	flags.StringVar(&f.ground, "ground", "", "mm ground off the face given by --face")
	flags.StringVar(&f.at, "at", "", "ground there only, not all over: x,y in mm")
	flags.StringVar(&f.radius, "radius", "", "how far about that place, mm (3)")
	flags.BoolVar(&f.noPlan, "no-plan", false, "do not plan anew")
	f.search.register(cmd)
	flags.Lookup("face").Usage = "plan for this face only, top, base or both; with --ground the face that was ground"
	complete(cmd, "stage", diary.StageNames)
	complete(cmd, "state", func() []string { return []string{"dry", "wet"} })
}

// step turns the flags into a step of the diary. A face that was ground is not one
// to narrow the search to.
func (f *diaryFlags) step() (diary.Step, error) {
	if f.stage == "" {
		return diary.Step{}, usagef("add needs --stage: one of %s", strings.Join(diary.StageNames(), ", "))
	}
	stage, err := diary.ParseStage(f.stage)
	if err != nil {
		return diary.Step{}, usagef("--stage %v", err)
	}
	s := diary.Step{Date: f.date, Stage: stage, Note: f.note, Photo: f.photo, Treatments: f.treatments, Sealed: f.seal}
	if s.Date == "" {
		s.Date = time.Now().Format(time.DateOnly)
	}
	if f.carat != "" {
		if s.Carat, err = parseWeight("carat", f.carat); err != nil {
			return s, err
		}
		s.State = "dry"
	}
	if f.state != "" {
		if s.State = diary.State(f.state); s.State == "" {
			return s, usagef("--state %q: give dry or wet", f.state)
		}
	}
	if s.Found, err = findings(f.found); err != nil {
		return s, err
	}
	if f.ground == "" {
		if f.at != "" || f.radius != "" {
			return s, usagef("--at and --radius go with --ground: how many mm were ground off")
		}
		return s, nil
	}
	s.Ground, err = f.grinding()
	return s, err
}

func (f *diaryFlags) grinding() (*planner.Grinding, error) {
	g := planner.Grinding{Face: planner.Face(f.search.face)}
	if g.Face != planner.Top && g.Face != planner.Base {
		return nil, usagef("--ground needs --face top or --face base: which face was ground?")
	}
	f.search.face = "both"
	var err error
	if g.MM, err = parseMM("ground", f.ground); err != nil {
		return nil, err
	}
	if f.radius != "" {
		if g.Radius, err = parseMM("radius", f.radius); err != nil {
			return nil, err
		}
	}
	if f.at == "" {
		return &g, nil
	}
	x, y, two := strings.Cut(f.at, ",")
	px, errX := strconv.ParseFloat(strings.TrimSpace(x), 64)
	py, errY := strconv.ParseFloat(strings.TrimSpace(y), 64)
	if !two || errX != nil || errY != nil {
		return nil, usagef("--at %q: give x,y in mm, such as 4.5,-2", f.at)
	}
	g.At = &geometry.Vec2{X: px, Y: py}
	return &g, nil
}

func parseMM(flag, text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(strings.TrimSuffix(text, "mm")), ",", ".", 1), 64)
	if err != nil || !(v > 0 && v <= 1000) {
		return 0, usagef("--%s %q: give millimetres, above 0", flag, text)
	}
	return v, nil
}

func findings(list []string) ([]planner.Finding, error) {
	var out []planner.Finding
	for _, text := range list {
		what, value, two := strings.Cut(text, "=")
		v, err := strconv.ParseFloat(value, 64)
		if !two || err != nil {
			return nil, usagef("--found %q: give what was found and its mm, such as P1.depth=3.2", text)
		}
		out = append(out, planner.Finding{What: strings.TrimSpace(what), Value: v})
	}
	return out, nil
}

// diaryAdd makes an entry, plans anew and says what changed.
func (a *app) diaryAdd(ctx context.Context, path string, f diaryFlags) error {
	step, err := f.step()
	if err != nil {
		return err
	}
	opt, err := f.search.options()
	if err != nil {
		return err
	}
	before, err := a.read(path, "")
	if err != nil {
		return err
	}
	best, err := a.meant(ctx, before, opt, f.noPlan)
	if err != nil {
		return err
	}
	if best != nil {
		step.Planned = planjson.Fit(1, *best)
	}
	done, err := a.diarySave(path, step)
	if err != nil {
		return err
	}
	after, err := a.read(path, "")
	if err != nil {
		return err
	}
	t := diaryText{after}
	text := t.entered(done)
	if !f.noPlan {
		plan, err := a.search(ctx, after.stone, opt)
		if err != nil {
			return err
		}
		var now *search.Fit
		if len(plan.Fits) > 0 {
			now = &plan.Fits[0]
		}
		var site diary.Measurer
		if open, err := search.Open(after.stone); err == nil {
			site = open
		}
		change := diary.Compare(best, now, site)
		text += paragraph(t.changed(change))
		if said := worthChanged(before, after, change); said != "" {
			text += paragraph(said)
		}
	}
	_, err = fmt.Fprint(a.std.Out, text)
	return err
}

// meant returns the fit that a stone is to become, before an entry: the best of its
// plan, or without a plan the one that the last entry has.
func (a *app) meant(ctx context.Context, s *specimen, opt search.Options, noPlan bool) (*search.Fit, error) {
	if noPlan {
		return planjson.Planned(s.stone), nil
	}
	plan, err := a.search(ctx, s.stone, opt)
	if err != nil || len(plan.Fits) == 0 {
		return nil, err
	}
	return &plan.Fits[0], nil
}

// diarySave puts the entry into the file, under the lock that a workbench takes.
func (a *app) diarySave(path string, step diary.Step) (diary.Done, error) {
	set, err := a.presets()
	if err != nil {
		return diary.Done{}, err
	}
	session, err := stonefile.Open(path, stonefile.Options{Set: set})
	if err != nil {
		return diary.Done{}, err
	}
	defer session.Close()
	if err := session.ReadOnly(); err != nil {
		return diary.Done{}, fmt.Errorf("%s: %w", planner.Visible(path), err)
	}
	if session.Found() != nil {
		return diary.Done{}, fmt.Errorf(
			"%s has unsaved edits of an earlier time: open it, recover or discard them, then add to its diary",
			planner.Visible(path),
		)
	}
	after, done, err := diary.Add(session.Stone(), step)
	if err != nil {
		var problem planner.Problem
		if errors.As(err, &problem) && problem.Place == "" {
			return done, err
		}
		return done, usagef("%v", err)
	}
	return done, session.Save(1, after)
}

// diaryShow prints the diary, or the stone as it was.
func (a *app) diaryShow(path string, f diaryFlags) error {
	s, err := a.read(path, "")
	if err != nil {
		return err
	}
	t := diaryText{s}
	if f.asJSON {
		return planjson.WriteDiary(a.std.Out, s.stone, t.judged())
	}
	if len(f.show) == 0 {
		_, err = fmt.Fprint(a.std.Out, t.String())
		return err
	}
	set, err := a.presets()
	if err != nil {
		return err
	}
	if len(f.show) > 2 {
		return usagef("--show %s: one entry or two", strings.Join(f.show, ","))
	}
	var shown []past
	for _, text := range f.show {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 1 || n > len(s.stone.Diary) {
			return usagef("--show %s: the diary has %s, counted from 1", text, entries(len(s.stone.Diary)))
		}
		e := s.stone.Diary[n-1]
		if e.Stone == nil {
			return usagef("--show %s: that entry did not keep the stone", text)
		}
		stone, err := stonefile.ReadPast(e.Stone, set)
		if err != nil {
			return err
		}
		shown = append(shown, past{number: n, entry: e, stone: stone, fit: plannedFit(e.Planned)})
	}
	_, err = fmt.Fprint(a.std.Out, a.beside(shown, f.ascii))
	return err
}

func plannedFit(text json.RawMessage) *search.Fit {
	if text == nil {
		return nil
	}
	f, err := planjson.ReadFit(text)
	if err != nil {
		return nil
	}
	return &f
}

func entries(n int) string {
	switch n {
	case 0:
		return "no entries"
	case 1:
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}
