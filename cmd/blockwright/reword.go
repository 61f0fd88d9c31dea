package main

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"blockwright/jig/source"
)

var (
	missingFlags = regexp.MustCompile(`^required flag\(s\) (.+) not set$`)
	notBoth      = regexp.MustCompile(`^if any flags in the group \[(.+)\] are set none of the others can be; \[(.+)\] were all set$`)
	notTogether  = regexp.MustCompile(`^if any flags in the group \[(.+)\] are set they must all be set; missing \[(.+)\]$`)
)

// reword says what cobra refused in our own terms: the flag, what is there, what is
// wanted.
func reword(err error, cmd *cobra.Command) error {
	var (
		value *pflag.InvalidValueError
		none  *pflag.ValueRequiredError
		flag  *pflag.NotExistError
	)
	switch {
	case errors.As(err, &value):
		inner := errors.Unwrap(value)
		have := fmt.Sprintf("%q", value.GetValue())
		if inner == nil {
			return err
		}
		if strings.HasPrefix(inner.Error(), "strconv.ParseBool") {
			inner = errors.New("want true or false")
		}
		if strings.Contains(inner.Error(), have) {
			return fmt.Errorf("flag --%s: %w", value.GetFlag().Name, inner)
		}
		return fmt.Errorf("flag --%s: %s: %w", value.GetFlag().Name, have, inner)
	case errors.As(err, &none):
		return fmt.Errorf("flag --%s: no value; want one behind it", none.GetFlag().Name)
	case errors.As(err, &flag):
		if near := source.Nearest(flag.GetSpecifiedName(), flagNames(cmd)); near != "" {
			return fmt.Errorf("%w; did you mean --%s?", err, near)
		}
		return err
	}
	text := err.Error()
	if m := missingFlags.FindStringSubmatch(text); m != nil {
		return fmt.Errorf("missing: %s", flagList(strings.Split(m[1], ", ")))
	}
	if m := notTogether.FindStringSubmatch(text); m != nil {
		return fmt.Errorf("missing: %s; want %s together", flagList(strings.Fields(m[2])), flagList(strings.Fields(m[1])))
	}
	if m := notBoth.FindStringSubmatch(text); m != nil {
		return fmt.Errorf("%s are given; want one of them", flagList(strings.Fields(m[2])))
	}
	return err
}

// flagList names flags in words: --a, --b and --c.
func flagList(names []string) string {
	for i, n := range names {
		names[i] = "--" + strings.Trim(n, `"`)
	}
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

func flagNames(cmd *cobra.Command) []string {
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	cmd.InheritedFlags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}
