package command

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/stonefile"
)

const newHelp = `Makes a stone file to start from: an oval outline, a level base and a top of the form
asked for, with readings where a caliper would take them. Open it in the workbench then
and draw the real outline, readings, cracks and pockets.

A file that is there already is left alone, unless --force is given.`

const newExample = `  cabwright new river.stone --size 28x20x9 --material opal-hydrophane --weight 24.6
  cabwright new slab.stone --size 60x40x6 --form flat --material jasper --name "Slab 4"`

type newFlags struct {
	size, form, material, name, weight string
	force                              bool
}

func (a *app) newCommand() *cobra.Command {
	var f newFlags
	var forms []string
	for _, form := range planner.Forms() {
		forms = append(forms, string(form))
	}
	cmd := &cobra.Command{
		Use:     "new FILE --size LxWxH",
		Short:   "Make a stone file from length, width and height",
		Long:    newHelp,
		Example: newExample,
		Args:    oneFile,
		RunE:    func(_ *cobra.Command, args []string) error { return a.makeNew(args[0], f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.size, "size", "", "length x width x height in mm, such as 28x20x9 (needed)")
	flags.StringVar(&f.form, "form", string(planner.Domed), "the form of the top: "+strings.Join(forms, ", "))
	flags.StringVar(&f.weight, "weight", "", "weight on the scale in carats, or with its unit: 24.6ct, 4.92g")
	flags.StringVar(&f.material, "material", "", "a material of the presets (default: the presets' own)")
	flags.StringVar(&f.name, "name", "", "what to call the stone (default: the file's name)")
	flags.BoolVar(&f.force, "force", false, "write over a file that is there already")
	complete(cmd, "form", func() []string { return forms })
	complete(cmd, "material", materialKeys)
	return cmd
}

func (a *app) makeNew(path string, f newFlags) error {
	size, err := parseSize(f.size)
	if err != nil {
		return err
	}
	set, err := a.presets()
	if err != nil {
		return err
	}
	material := f.material
	if material == "" {
		material = set.Defaults.Material
	}
	if _, ok := set.Material(material); !ok {
		return unknownMaterial(material, set)
	}
	name := f.name
	if name == "" {
		name = strings.TrimSuffix(filepath.Base(path), ".stone")
	}
	stone, err := planner.NewStone(name, material, size, planner.Form(f.form), set)
	if err == nil && f.weight != "" {
		ct, wrong := parseWeight("weight", f.weight)
		if wrong != nil {
			return wrong
		}
		stone, err = planner.SetScaleWeight(stone, ct)
	}
	if err != nil {
		return usagef("%v", err)
	}
	err = stonefile.Create(path, stone, f.force, stonefile.Options{Set: set})
	if errors.Is(err, stonefile.ErrExists) {
		return fmt.Errorf("%s is there already: choose another name, or --force to write over it", path)
	}
	if err != nil {
		return err
	}
	s, err := a.read(path, "")
	if err != nil {
		return err
	}
	_, err = fmt.Fprint(a.std.Out, s.heading()+paragraph("Written to "+planner.Visible(path)+"."))
	return err
}

// parseSize reads length x width x height in millimetres.
func parseSize(text string) (geometry.Vec3, error) {
	if text == "" {
		return geometry.Vec3{}, usagef("--size is needed: length x width x height in mm, such as 28x20x9")
	}
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == 'x' || r == 'X' || r == '×' || r == '*' })
	var v [3]float64
	for i, part := range parts {
		x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(part), ",", ".", 1), 64)
		if err != nil || i >= len(v) {
			parts = nil
			break
		}
		v[i] = x
	}
	if len(parts) != len(v) {
		return geometry.Vec3{}, usagef("--size %q: give length x width x height in mm, such as 28x20x9", text)
	}
	return geometry.Vec3{X: v[0], Y: v[1], Z: v[2]}, nil
}
