package gcode_test

import (
	"fmt"
	"os"

	"github.com/paulmach/orb"

	"blockwright/gcode"
)

// A program is parsed, followed and judged; every fault has its place.
func ExampleProgram_Check() {
	text := "G21 G17 G90\nG0 Z5\nS12000 M3\nG0 X10\nG1 Z-1\nG2 X20 Y0 I4.9 F300\nM5\nM30\n"
	p, found := gcode.Parse("plate.ngc", []byte(text))
	sum, ran := p.Check(gcode.RS274NGC(), gcode.Setup{Top: 0}, nil)
	for _, f := range append(found, ran...) {
		fmt.Printf("%s:%d:%d: %s %s\n", f.File, f.Line, f.Column, f.Code, f.Text)
	}
	fmt.Printf("%d feed moves, deepest %g mm\n", sum.Cuts, sum.Deepest())
	// Output:
	// plate.ngc:5:1: RS101 a feed move and no feed rate is set; want F above 0
	// plate.ngc:6:1: RS202 the arc starts at radius 4.9 and ends at 5.1 mm; want them within 0.002
	// 2 feed moves, deepest -1 mm
}

// A groove round a quarter circle, cut in inches for a spindle with a dial.
func ExamplePrint() {
	//        ( )  end (30, 10)
	//    .  '
	//  ( )        start (20, 0), centre (30, 0)
	at := [][3]float64{{20, 0, 5}, {20, 0, -1}, {30, 10, -1}, {30, 10, 5}}
	l := gcode.Listing{Head: gcode.Head{Inch: true, Zero: "top"}.Comment(), Inch: true, Dial: true, Moves: []gcode.Move{
		{Op: gcode.Rapid, From: [3]float64{20, 0, 0}, To: at[0]},
		{Op: gcode.Line, From: at[0], To: at[1], Feed: 300, RPM: 10000},
		{Op: gcode.CW, From: at[1], To: at[2], Centre: orb.Point{30, 0}, Feed: 900, RPM: 10000},
		{Op: gcode.Rapid, From: at[2], To: at[3], RPM: 10000},
	}}
	if err := gcode.Print(os.Stdout, gcode.Grbl(), l); err != nil {
		fmt.Println(err)
	}
	// Output:
	// (units in, zero top)
	// G20 G17 G90
	// G40 G49 G94 G80
	// G54 G61
	// G0 Z0.19685
	// (MSG, set the spindle to 10000 rpm, start it, then go on)
	// M0
	// S10000 M3
	// G0 X0.7874 Y0
	// G1 Z-0.03937 F11.811
	// G2 X1.1811 Y0.3937 I0.3937 J0 F35.433
	// G0 Z0.19685
	// M5
	// M30
}
