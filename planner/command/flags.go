package command

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"cabwright/planner"
)

// flagMistake says in plain words what is wrong with the options that were typed: the
// library tells of the functions that did not read them.
func flagMistake(cmd *cobra.Command, err error) string {
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var wrong *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown) && unknown.GetSpecifiedShortnames() != "":
		return fmt.Sprintf("there is no option -%s", unknown.GetSpecifiedShortnames())
	case errors.As(err, &unknown):
		return fmt.Sprintf("there is no option --%s%s", unknown.GetSpecifiedName(), nearFlag(cmd, unknown.GetSpecifiedName()))
	case errors.As(err, &bare):
		return fmt.Sprintf("--%s is without what it is to be: give %s", bare.GetFlag().Name, flagKind(bare.GetFlag()))
	case errors.As(err, &wrong):
		return fmt.Sprintf("--%s %q: give %s", wrong.GetFlag().Name, wrong.GetValue(), flagKind(wrong.GetFlag()))
	}
	return err.Error()
}

// flagKind is what an option takes.
func flagKind(f *pflag.Flag) string {
	switch f.Value.Type() {
	case "float64":
		return "a number, such as 0.3"
	case "int":
		return "a whole number"
	case "bool":
		return "nothing, or =false"
	}
	return "a text"
}

// nearFlag names the option that one not known may be meant for.
func nearFlag(cmd *cobra.Command, word string) string {
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	near := planner.Nearest(word, names)
	if len(near) == 0 {
		return ""
	}
	return " (did you mean --" + strings.Join(near, " or --") + "?)"
}
