package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/gcode"
	"blockwright/jig/shop"
)

// stdinName is how standard input is given as a file.
const stdinName = "-"

// readbackFlags are what a program is read with; what is not given, its own head
// says.
type readbackFlags struct {
	mill, thickness lengthFlag
	zero, dialect   choiceFlag
	against         folderFlag
}

func newReadbackCmd(s *streams) *cobra.Command {
	f := readbackFlags{
		mill:      lengthFlag{sign: positive},
		thickness: lengthFlag{sign: positive},
		zero:      choiceFlag{words: []string{"top", "table"}},
		dialect:   choiceFlag{words: gcode.Dialects()},
	}
	cmd := &cobra.Command{
		Use:   "readback PROGRAM...",
		Short: "Follow milling programs and report every fault",
		Long: `Readback follows RS-274 programs block by block, as a controller would, and
reports every fault as file:line:column: code text, then what the program does:
the box around its cutting moves, how deep it goes, how far and how long. "-" is
standard input. No file is changed and no shop is needed.

With --against the moves are held against the WALL layer of a drawing: how far the
mill cuts into the part (gouge), how much of the wall it leaves (leftover), and
where tabs stay.

Our own programs say in their head where zero is, how thick the sheet is, which mill
they are for and what limits they keep; a flag says otherwise. Other programs are read with
zero at the sheet's top. The dialect is rs274ngc, or grbl for a file that ends in
.nc. A block with the block-delete slash may be left out or not: both are read.

Exit status is 0 without faults, 1 with faults, 3 for a wrong command line and 4
if a file cannot be read.`,
		Example: `  blockwright readback fixtures/ridge-lock-19mm-block/*.ngc
  blockwright readback plate.ngc --against plate.dxf --mill 3.175
  blockwright readback --zero table --thickness 6.1 --json - < plate.ngc`,
		Args: atLeast(1, "program"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return readbackAll(s, cmd, &f, args)
		},
	}
	cmd.Flags().Var(&f.against, "against", "drawing (DXF) of the part that the program leaves")
	cmd.Flags().Var(&f.mill, "mill", "diameter that the mill cuts")
	cmd.Flags().Var(&f.thickness, "thickness", "thickness of the sheet")
	cmd.Flags().Var(&f.zero, "zero", "where Z0 is: the sheet's top, or the table under it")
	cmd.Flags().Var(&f.dialect, "dialect", "dialect of the program: "+strings.Join(gcode.Dialects(), " or "))
	return cmd
}

// readbackAll reads every program it can and prints one result.
func readbackAll(s *streams, cmd *cobra.Command, f *readbackFlags, files []string) error {
	units, err := readbackUnits(s, f)
	if err != nil {
		return err
	}
	stdin := 0
	for _, file := range files {
		if file == stdinName {
			stdin++
		}
	}
	if stdin > 1 {
		return &usageError{errors.New(`"-" given twice; standard input can be read once`), cmd.CommandPath()}
	}
	var drawing []byte
	if f.against.path != "" {
		if drawing, err = readWhole(f.against.path, drawingMax); err != nil {
			return err
		}
		if drawing == nil {
			drawing = []byte{}
		}
	}
	var bad []error
	var items []*readbackItem
	faults := false
	for _, file := range files {
		text, err := readProgram(s, file)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		item, err := readback(file, text, f, units, drawing)
		var usage *usageError
		if errors.As(err, &usage) {
			usage.path = cmd.CommandPath()
		}
		if err != nil {
			return err
		}
		items = append(items, item)
		faults = faults || len(item.Findings) > 0
	}
	if len(items) > 0 {
		err = s.result(readbackDocument(items, len(files)), func(w io.Writer) error {
			for i, item := range items {
				if i > 0 {
					fmt.Fprintln(w)
				}
				if err := item.print(w); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if faults && len(bad) == 0 && err == nil {
		return &silent{statusFault}
	}
	return errors.Join(append(bad, err)...)
}

// readbackDocument is one program's keys, or the list of several.
func readbackDocument(items []*readbackItem, files int) any {
	if files == 1 {
		return items[0]
	}
	return map[string]any{"programs": items}
}

// readbackUnits are the units of bare numbers in flags: the shop's, where there is
// one and a flag has a bare number; else mm.
func readbackUnits(s *streams, f *readbackFlags) (string, error) {
	if s.dir.path == "" && !f.mill.set && !f.thickness.set {
		return "mm", nil
	}
	sh, err := s.shop()
	var missing *shop.MissingError
	switch {
	case errors.As(err, &missing) && s.dir.path == "":
		return "mm", nil
	case err != nil:
		return "", err
	}
	return sh.Units, nil
}

func readProgram(s *streams, file string) ([]byte, error) {
	if file == stdinName {
		text, err := io.ReadAll(io.LimitReader(s.in, programMax+1))
		if err != nil {
			return nil, &fileError{fmt.Errorf("standard input: %w", err)}
		}
		return text, tooLong("standard input", len(text), programMax)
	}
	return readWhole(file, programMax)
}

// The most bytes that are read of a program and of a drawing: far more than any
// controller is fed with, and an end for devices and pipes that have none.
const (
	programMax = 1 << 29
	drawingMax = 1 << 28
)

// readWhole reads a file, a pipe or a device to its end, up to most bytes.
func readWhole(file string, most int64) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	if n := info.Size(); info.Mode().IsRegular() && n <= most {
		text.Grow(int(n) + bytes.MinRead)
	}
	if _, err := text.ReadFrom(io.LimitReader(f, most+1)); err != nil {
		return nil, err
	}
	return text.Bytes(), tooLong(plain(file), text.Len(), most)
}

func tooLong(name string, n int, most int64) error {
	if int64(n) <= most {
		return nil
	}
	return &fileError{fmt.Errorf("%s: more than %d bytes; want a shorter file", name, most)}
}
