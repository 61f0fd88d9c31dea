package main

import (
	"bytes"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"blockwright/jig/shelf"
	"blockwright/jig/source"
)

// program runs blockwright as a process of its own in the folder dir.
func program(dir string, args ...string) *exec.Cmd {
	cmd := exec.Command("blockwright", args...) // TestMain puts it on the path
	cmd.Dir = dir
	return cmd
}

// done runs the program to its end and wants the exit status.
func done(t *testing.T, status int, dir string, args ...string) string {
	t.Helper()
	out, err := program(dir, args...).CombinedOutput()
	have := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		have = exit.ExitCode()
	} else {
		require.NoError(t, err)
	}
	require.Equal(t, status, have, "%v: %s", args, out)
	return string(out)
}

// newShop is a folder with the shop that init writes.
func newShop(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	done(t, 0, dir, "init")
	return dir
}

// batch is a run that writes much and computes little.
var batch = []string{"make", "trial,gauge", "--cutter", "ridge-lock", "--stock", "16,17,18,19,20,21", "--post", "outline,svg", "--force"}

// A kill at any moment of a batch leaves every fixture that stood before whole, the
// old or the new one, and nothing that counts as a fixture and is not whole. The next
// run removes what is left over. KILLS sets the number of kills.
func TestKilledAtAnyMoment(t *testing.T) {
	kills := 20
	if n, err := strconv.Atoi(os.Getenv("KILLS")); err == nil {
		kills = n
	}
	dir := newShop(t)
	begin := time.Now()
	done(t, 0, dir, append(batch, "--hold", "screws")...)
	long := time.Since(begin)
	s := shelf.Open(dir)
	before, err := s.Names()
	require.NoError(t, err)
	require.Len(t, before.IDs, 12)

	r := rand.New(rand.NewPCG(1, 2))
	leftovers, replaced := 0, 0
	for i := range kills {
		// New ones are made beside those that stand, and these are made otherwise.
		args := append(batch[:len(batch):len(batch)], "--stock", []string{"22", "23"}[i%2], "--hold", []string{"tabs", "screws"}[i%2])
		cmd := program(dir, args...)
		require.NoError(t, cmd.Start())
		time.Sleep(time.Duration(r.Int64N(int64(long) * 11 / 10)))
		_ = cmd.Process.Kill() // it may have ended
		_ = cmd.Wait()

		names, err := s.Names()
		require.NoError(t, err)
		require.Subset(t, names.IDs, before.IDs)
		require.Empty(t, names.Others)
		leftovers += len(s.Leftovers(names))
		for _, id := range names.IDs {
			rec, files, faults, err := s.LoadAll(id)
			require.NoError(t, err)
			require.Empty(t, faults)
			require.Len(t, files, 2)
			if rec.Inputs.Hold == "tabs" {
				replaced++
			}
		}
		if i%10 == 9 {
			done(t, 0, dir, "shelf", "verify")
		}
		before = names
	}
	t.Logf("%d kills: %d leftovers, %d times a new one in an old one's place", kills, leftovers, replaced)
	done(t, 0, dir, batch...)
	names, err := s.Names()
	require.NoError(t, err)
	require.Empty(t, names.Pending)
	require.Contains(t, done(t, 0, dir, "shelf", "verify"), " whole, 0 stale, 0 broken, 0 retired")
}

// Two batches of the same fixtures at once both finish, whoever reads meanwhile reads
// whole ones, and every fixture is whole.
func TestTwoBatchesAtOnce(t *testing.T) {
	dir := newShop(t)
	done(t, 0, dir, batch...)
	s := shelf.Open(dir)
	names, err := s.Names()
	require.NoError(t, err)

	var finished atomic.Bool
	read := make(chan string, 1)
	go func() {
		for i := 0; ; i++ {
			_, _, faults, err := s.LoadAll(names.IDs[i%len(names.IDs)])
			if err != nil || len(faults) > 0 {
				read <- names.IDs[i%len(names.IDs)] + " is not whole while it is written"
				return
			}
			if finished.Load() && i > len(names.IDs) {
				read <- ""
				return
			}
		}
	}()
	var runs [2]*exec.Cmd
	var out [2]bytes.Buffer
	for i, hold := range []string{"tabs", "skin"} {
		runs[i] = program(dir, append(batch[:len(batch):len(batch)], "--hold", hold)...)
		runs[i].Stdout, runs[i].Stderr = &out[i], &out[i]
		require.NoError(t, runs[i].Start())
	}
	for i := range runs {
		require.NoError(t, runs[i].Wait(), out[i].String())
	}
	finished.Store(true)
	require.Empty(t, <-read)
	require.Contains(t, done(t, 0, dir, "shelf", "verify"), "12 whole, 0 stale, 0 broken, 0 retired")
}

// A folder that cannot be written, and a disk that is full, end a run with a message
// and leave what stood there.
func TestShelfCannotBeWritten(t *testing.T) {
	if os.Getuid() == 0 {
		// Root writes into any folder; a file in the folder's place it cannot.
		dir := newShop(t)
		require.NoError(t, os.WriteFile(dir+"/fixtures", nil, 0o644))
		require.Contains(t, done(t, 4, dir, batch...), "fixtures: is no folder")
		require.FileExists(t, dir+"/fixtures")
		return
	}
	dir := newShop(t)
	done(t, 0, dir, batch...)
	require.NoError(t, os.Chmod(dir+"/fixtures", 0o555))
	defer os.Chmod(dir+"/fixtures", 0o755)
	require.Contains(t, done(t, 4, dir, batch...), "permission denied")
	require.Contains(t, done(t, 0, dir, "shelf", "verify"), "12 whole")
}

// A limit on the size of files is to a writer what a full disk is.
func TestShelfDiskFull(t *testing.T) {
	dir := newShop(t)
	done(t, 0, dir, batch...)
	for _, kilobytes := range []string{"0", "1", "8", "16"} {
		cmd := exec.Command("sh", "-c", "ulimit -f "+kilobytes+"; trap '' XFSZ; exec \"$@\"", "sh", "blockwright")
		cmd.Args = append(cmd.Args, append(batch[:len(batch):len(batch)], "--hold", "skin")...)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		var exit *exec.ExitError
		require.ErrorAs(t, err, &exit, string(out))
		require.Equal(t, statusFile, exit.ExitCode(), string(out))
		require.Contains(t, string(out), "file too large")
		require.NotContains(t, string(out), "panic")
	}
	require.Contains(t, done(t, 0, dir, "shelf", "verify"), "12 whole, 0 stale, 0 broken, 0 retired")
	names, err := shelf.Open(dir).Names()
	require.NoError(t, err)
	require.Empty(t, names.Pending)
}

// Something else in a fixture's place is told; the others are made.
func TestSomethingInTheWay(t *testing.T) {
	dir := newShop(t)
	require.NoError(t, os.MkdirAll(dir+"/fixtures", 0o755))
	require.NoError(t, os.WriteFile(dir+"/fixtures/ridge-lock-19mm-trial", nil, 0o644))
	require.NoError(t, os.MkdirAll(dir+"/fixtures/ridge-lock-18mm-trial/mine", 0o755))
	require.NoError(t, os.WriteFile(dir+"/fixtures/ridge-lock-18mm-trial/fixture.toml", []byte("id = 3"), 0o644))
	out := done(t, statusFile, dir, batch...)
	require.Contains(t, out, "ridge-lock-19mm-trial: is no folder")
	require.DirExists(t, dir+"/fixtures/ridge-lock-18mm-trial/mine")
	require.FileExists(t, dir+"/fixtures/ridge-lock-18mm-trial/fixture.toml.unread")
	_, err := shelf.Open(dir).Load("ridge-lock-19mm-trial")
	require.Error(t, err)
	require.False(t, errors.Is(err, fs.ErrNotExist))
	require.NotErrorAs(t, err, new(source.Faults))
	require.Contains(t, done(t, 0, dir, "shelf", "verify"), "fixtures/ridge-lock-19mm-trial: no fixture")
}
