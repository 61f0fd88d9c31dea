package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/jig/source"
)

// version of the program, kept with every fixture it makes.
const version = "0.1.0"

func newRootCmd(s *streams) *cobra.Command {
	showVersion := false
	cmd := &cobra.Command{
		Use:   "blockwright",
		Short: "Set up joint cutters in a router table with milled fixtures",
		Long: `Blockwright takes a router-table cutter and a board thickness, works out where
cutter and fence have to stand, and writes the milling programs and drawings of
the fixtures that put them there.

From the outside size of a box to its corners:

  init SHOP            once: a folder for your shop. Enter your router table, milling
                       machine, end mills and sheets into its shop.toml
  cutter check, show   once for each cutter: enter its profile into a file of the
                       folder cutters; see 'blockwright cutter --help'
  plan box             outside sizes in, cut list and order of work out, with the
                       commands for this job; also frame, post, panel
  setting              height and fence, what to measure, what an error does
  make block gauge     the fixtures that put cutter and fence there: run the frame
                       program first, then mill; readback checks any program again
  adjust flip, tip     after two test cuts: what to turn, which way, how far

It works in a shop: a folder with a shop.toml and a folder of cutters. The shop
is the one --shop names, else the environment's BLOCKWRIGHT_SHOP, else the
nearest folder upward from the working directory.

A length is a number in the shop's units, or one with a unit: 19mm, 0.75in,
3/4in, 1-3/4in, 3/4". Its decimal point is a point; a comma parts two lengths.

Exit status is 0 when the work is done, 1 for a fault in a file or program or a
wish that cannot be met, 3 for a wrong command line, and 4 if a file, cutter or
shop is missing or cannot be read or written.`,
		Args:          noSuchCommand,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if showVersion {
				return s.result(map[string]string{"version": version}, func(w io.Writer) error {
					_, err := fmt.Fprintln(w, "blockwright", version)
					return err
				})
			}
			return cmd.Help()
		},
	}
	cmd.CompletionOptions.DisableDefaultCmd = true
	cmd.PersistentFlags().BoolVar(&s.json, "json", false, "write one JSON document, lengths in mm; errors as JSON too")
	cmd.PersistentFlags().Var(&s.dir, "shop", "folder of the shop")
	cmd.Flags().BoolVar(&showVersion, "version", false, "print the version")
	cmd.AddCommand(
		newAdjustCmd(s),
		newInitCmd(s),
		newCutterCmd(s),
		newFinishCmd(s),
		newMakeCmd(s),
		newPlanCmd(s),
		newPostsCmd(s),
		newReadbackCmd(s),
		newSettingCmd(s),
		newShelfCmd(s),
	)
	cmd.SetHelpCommand(newHelpCmd())
	return cmd
}

// group makes a command that only holds others: alone it prints its help, given
// anything else it is a wrong command line.
func group(cmd *cobra.Command, children ...*cobra.Command) *cobra.Command {
	cmd.Args = noSuchCommand
	cmd.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
	cmd.AddCommand(children...)
	return cmd
}

// noSuchCommand refuses every argument as an unknown command.
func noSuchCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	names := ""
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			if names != "" {
				names += ", "
			}
			names += c.Name()
		}
	}
	meant := ""
	if near := source.Nearest(args[0], strings.Split(names, ", ")); near != "" {
		meant = "; did you mean " + near + "?"
	}
	return fmt.Errorf("unknown command %q for %q%s; want one of %s", args[0], cmd.CommandPath(), meant, names)
}

func newHelpCmd() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Explain a command",
		Args: func(cmd *cobra.Command, args []string) error {
			found, rest, err := cmd.Root().Find(args)
			if err != nil || len(args) > 0 && found == cmd.Root() {
				return noSuchCommand(cmd.Root(), args)
			}
			return noSuchCommand(found, rest)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			found, _, err := cmd.Root().Find(args)
			if err != nil {
				return err
			}
			found.InitDefaultHelpFlag()
			return found.Help()
		},
	}
}
