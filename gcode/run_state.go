package gcode

// The letters' bits in a block's mask.
const (
	bitA = 1 << iota
	bitB
	bitC
	bitD
	_
	bitF
	_
	bitH
	bitI
	bitJ
	bitK
	bitL
	_
	bitN
	_
	bitP
	bitQ
	bitR
	bitS
	bitT
	_
	_
	_
	bitX
	bitY
	bitZ

	bitsXYZ = bitX | bitY | bitZ
	bitsABC = bitA | bitB | bitC
)

// machine is the state of the interpreter. Lengths are mm.
type machine struct {
	p      *Program
	d      *Dialect
	each   func(*Move)
	onTool func() // called when M6 changes the tool; may be nil
	found  []Finding
	full   bool

	knowsG, knowsM [1000]bool

	units uint8 // 1: G21 has been said, 2: G20

	// modal state
	unit     float64 // mm per program unit
	motion   uint16  // ten times the G code
	plane    uint8
	relative bool // G91
	inverse  bool // G93
	initial  bool // G98: cycles go back to the height before them
	speed    float64
	turning  float64 // +1 M3, -1 M4, 0 M5
	feed     float64 // mm/min, or moves a minute in inverse time
	noFeed   bool    // NoFeed has been told since the feed was last set

	at    [3]float64 // of the tool
	lost  [3]bool    // at is not known in this axis
	told  bool       // LostPos has been told
	work  [3]float64 // offset of the work coordinates in force
	shift [3]float64 // G92
	saved [3]float64 // G92 offset kept by G92.2
	g5x   [10][3]float64
	known [10]bool // the offset of this system against the first is known
	sys   int      // 1 to 9: G54 to G59.3
	moved bool     // something depends on the system in force at the start
	fed   bool     // the tool has moved at feed since it was changed

	home      [2][3]float64 // G28.1, G30.1
	homeKnown [2]bool
	cycle     cycleState

	// the block being run
	b        *Block
	v        [26]float64
	mask     uint32
	used     uint32
	move     Move
	strange  bool // it has a G code that the dialect has not
	strangeM bool // the same of M
}

func newMachine(p *Program, d *Dialect, each func(*Move)) *machine {
	m := &machine{p: p, d: d, each: each, unit: 1, motion: uint16(d.Motion), sys: 1}
	m.knowsG, m.knowsM = d.table()
	m.known[1] = true
	return m
}
