package shelf

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/gofrs/flock"
)

// lockPoll is how often a waiting writer asks for the lock again.
const lockPoll = 2 * time.Millisecond

// turns lets the goroutines of this process take their turns at a shelf before they
// ask for its lock: they would only poll against each other.
var turns sync.Map // path of the shelf → chan struct{} that holds one token

// locked runs write while no other writer, of this process or another, is at work
// on the shelf; the folder of fixtures is made if there is none.
func (s *Shelf) locked(ctx context.Context, write func(*bench) error) error {
	dir := s.Dir()
	if err := s.makeFolder(); err != nil {
		return err
	}
	key, err := filepath.Abs(dir)
	if err != nil {
		key = dir
	}
	token, _ := turns.LoadOrStore(key, make(chan struct{}, 1))
	turn := token.(chan struct{})
	select {
	case turn <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-turn }()

	lock := flock.New(filepath.Join(dir, lockName), flock.SetPermissions(0o644))
	ok, err := lock.TryLockContext(ctx, lockPoll)
	if err != nil || !ok {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return fmt.Errorf("the shelf could not be locked: %w", err)
	}
	defer lock.Unlock() // closing the file gives the lock back whatever it says
	b, err := s.newBench()
	if err != nil {
		return err
	}
	defer b.close()
	if err := b.clear(); err != nil {
		return err
	}
	return write(b)
}

// makeFolder makes the folder of fixtures and syncs the shop's.
func (s *Shelf) makeFolder() error {
	root, err := os.OpenRoot(s.shop)
	if err != nil {
		return err
	}
	defer root.Close()
	err = root.Mkdir(Folder, 0o755)
	if err == nil {
		return syncFolder(root)
	}
	if !errors.Is(err, fs.ErrExist) {
		return s.placed(err)
	}
	if info, err := root.Stat(Folder); err != nil {
		return s.placed(err)
	} else if !info.IsDir() {
		return &fs.PathError{Op: "open", Path: s.Dir(), Err: errors.New("is no folder")}
	}
	return nil
}

// syncFolder makes the names in a folder last.
func syncFolder(root *os.Root) error {
	dir, err := root.Open(".")
	if err != nil {
		return err
	}
	defer dir.Close()
	return dir.Sync()
}
