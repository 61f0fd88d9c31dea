package shelf

import (
	"os"
	"path/filepath"

	"github.com/gofrs/flock"
)

// Leftovers are the pending folders that no writer is at work on: what killed ones
// left. While a writer is at work none can be told, and none is.
func (s *Shelf) Leftovers(n Names) []string {
	if len(n.Pending) == 0 {
		return nil
	}
	lock := flock.New(filepath.Join(s.Dir(), lockName), flock.SetFlag(os.O_RDONLY))
	if ok, err := lock.TryRLock(); err == nil && !ok {
		return nil
	} else if err == nil {
		defer lock.Unlock() // closing the file gives the lock back whatever it says
	} // else there is no lock, so no writer
	var out []string
	for _, name := range n.Pending {
		if _, err := os.Lstat(filepath.Join(s.Dir(), name)); err == nil {
			out = append(out, name)
		}
	}
	return out
}
