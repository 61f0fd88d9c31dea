package shelf

import (
	"strings"
)

// clear sets right what killed writers left: a fixture that was set aside and not
// replaced goes back to its place, every other folder with a point is removed. It
// reads the whole folder of fixtures, so a Shelf does it once.
func (b *bench) clear() error {
	s := b.shelf
	s.mu.Lock()
	done := s.cleared
	s.cleared = true
	s.mu.Unlock()
	if done {
		return nil
	}
	names, err := s.Names()
	if err != nil {
		return err
	}
	for _, n := range names.Pending {
		if id, ok := strings.CutPrefix(n, oldPrefix); ok && ValidID(id) {
			if there, err := b.there(id); err == nil && !there {
				if err := b.root.Rename(n, id); err != nil {
					return s.placed(err, n)
				}
				continue
			}
			if err := b.empty(n, id); err != nil {
				return err
			}
			continue
		}
		id := strings.TrimPrefix(n, newPrefix)
		if !ValidID(id) {
			continue // nothing of ours
		}
		if err := b.empty(n, id); err != nil {
			return err
		}
	}
	if len(names.Pending) > 0 {
		return b.dir.Sync()
	}
	return nil
}
