// Package route turns walls and bores into tool-centre moves.
//
// A wall is what the mill shall leave standing, a bore a hole inside it. The
// package plans where the mill's centre goes: bores first, then pockets, which end
// at a floor part-way through the sheet, then inside walls, then outlines, small
// before large, and never an outline before what lies in it. Each wall is roughed in steps with an allowance and a widened kerf, then
// cut once at full depth in one direction.
//
// Lengths are millimetres, feeds millimetres a minute, angles of a [Tool]
// degrees. X and Y are the sheet's. Z is 0 at the spoilboard's surface, or at the
// sheet's top if the tool says so.
//
// What every plan keeps:
//
//	(1) a tool centre is never nearer to a wall than the mill's radius, as
//	    exactly as geom offsets a path;
//	(2) no move into uncut sheet falls steeper than the ramp angle; straight down
//	    goes only where the sheet is cut already, or is not yet reached;
//	(3) rapids in X and Y are at safe height, rapids in Z end 1 mm above the sheet;
//	(4) nothing is deeper than the stated cut into the spoilboard, nothing of a
//	    pocket deeper than its floor;
//	(5) seats get no tab and no lead;
//	(6) no waste is cut loose beside a running mill: what an inside wall or a bore
//	    would free is milled away first, from the inside, or a skin holds it.
//
// The package knows no machine language and no file; gcode prints its moves.
package route
