package shop

import (
	"path/filepath"

	"blockwright/jig/source"
)

// FileName is the file that makes a folder a shop.
const FileName = "shop.toml"

// Load reads the shop in the folder dir. The error is a [source.Faults], or an
// [*fs.PathError] if the file cannot be read.
func Load(dir string) (*Shop, error) {
	s, _, err := LoadText(dir)
	return s, err
}

// LoadText is [Load] with the text of shop.toml, for those who keep its hash.
func LoadText(dir string) (*Shop, []byte, error) {
	name := filepath.Join(dir, FileName)
	text, err := source.Load(name)
	if err != nil {
		return nil, nil, err
	}
	s, err := Parse(name, text)
	return s, text, err
}

// Parse reads a shop from the text of shop.toml. name stands in the faults, and
// its folder becomes the shop's; nothing is opened. The error is a
// [source.Faults] with every fault of the file.
func Parse(name string, text []byte) (*Shop, error) {
	f := source.Open(name, text)
	top := f.Root()
	s := &Shop{Dir: filepath.Dir(name)}
	if _, ok := top.Need("units", `"mm" or "in"`); ok {
		s.Units, _ = top.OneOf("units", "mm", "in")
	}
	f.Units = s.Units
	if sec, ok := section(top, "table", "a table, [table]: the router table"); ok {
		s.Table = readTable(f, sec)
	}
	if sec, ok := section(top, "machine", "a table, [machine]: the machine that mills the plates"); ok {
		s.Machine = readMachine(f, sec)
	}
	readMills(f, top, s)
	if sec, ok := top.Section("engraver"); ok {
		s.Engraver = readEngraver(f, sec)
	}
	readSheets(f, top, s)
	s.Defaults = Standard()
	if sec, ok := top.Section("defaults"); ok {
		readDefaults(f, sec, &s.Defaults)
	}
	top.Done()
	if faults := f.Faults(); len(faults) > 0 {
		return nil, faults
	}
	return s, nil
}

func section(top *source.Section, key, want string) (*source.Section, bool) {
	if _, ok := top.Need(key, want); !ok {
		return nil, false
	}
	return top.Section(key)
}

// length reads a length that must be there; 0 after a fault.
func length(s *source.Section, key string, in source.Range) float64 {
	v, _ := s.NeedLength(key, in)
	return v
}
