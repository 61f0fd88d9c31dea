package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

	"blockwright/jig/shelf"
	"blockwright/posts"
	"blockwright/posts/page"
)

func newShelfPageCmd(s *streams) *cobra.Command {
	var out folderFlag
	cmd := &cobra.Command{
		Use:   "page",
		Short: "Write a page that shows all fixtures",
		Long: `Page writes one HTML file with every fixture on the shelf: a small drawing, cutter,
thickness, kind, state, what was measured last, and a link to its setup sheet. It
opens from its folder in any browser; "/" goes to the search. States are those of
'blockwright shelf list'.

Exit status is 0 when it was written, 1 for a fault in the shop's file, 3 for a wrong
command line and 4 if the shop is missing or the page cannot be written.`,
		Example: "  blockwright shelf page\n  blockwright shelf page --out /tmp/shelf.html",
		Args:    atMost(0, "arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := wantEnding(cmd, "out", out.path, ".html", ".htm"); err != nil {
				return err
			}
			lib, err := s.library()
			if err != nil {
				return err
			}
			path := out.path
			if path == "" {
				path = filepath.Join(lib.Dir(), shelf.PageName)
			}
			n, err := lib.writePage(cmd, path, out.path == "")
			if err != nil {
				return err
			}
			return s.result(map[string]any{"page": path, "fixtures": n}, func(w io.Writer) error {
				_, err := fmt.Fprintf(w, "%s  %s\n", path, counted(n, "fixture"))
				return err
			})
		},
	}
	cmd.Flags().Var(&out, "out", "`file` to write (index.html beside the fixtures)")
	return cmd
}

// writePage writes the page, whole or not at all, and tells how many fixtures it shows.
func (l *library) writePage(cmd *cobra.Command, path string, makeDir bool) (int, error) {
	ctx := cmd.Context()
	names, err := l.Names()
	if err != nil {
		return 0, err
	}
	all, err := l.look(ctx, names.IDs, &shelfFilter{}, func(id string) shelf.Status { return l.Look(id, l.changes) })
	if err != nil {
		return 0, err
	}
	shown := make([]posts.Shelved, len(all))
	for i, st := range all {
		shown[i] = l.shown(st)
	}
	posts.SortShelved(shown)
	dir, err := linkTo(l.Dir(), path)
	if err != nil {
		return 0, err
	}
	order := make([]int, len(shown))
	for i := range order {
		order[i] = i
	}
	var cards []page.Card
	inOrder(ctx, order, func(i int) page.Card {
		x := shown[i]
		x.Drawing = l.drawing(x)
		return posts.CardOf(x, i, l.shop.Units, dir)
	}, func(_ int, c page.Card) bool {
		cards = append(cards, c)
		return true
	})
	if err := ctx.Err(); err != nil {
		return 0, err
	}
	var b bytes.Buffer
	if err := posts.WriteShelfPage(&b, "Fixtures", cards, version); err != nil {
		return 0, err
	}
	if makeDir {
		if err := os.Mkdir(filepath.Dir(path), 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
			return 0, &fileError{err}
		}
	}
	if err := renameio.WriteFile(path, b.Bytes(), 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
		return 0, placed(err, path)
	}
	return len(cards), nil
}

// shown is a fixture as the page shows it, without its drawing.
func (l *library) shown(st shelf.Status) posts.Shelved {
	x := posts.Shelved{ID: st.ID, Record: st.Record, State: string(st.State), Why: st.Because()}
	if st.Record == nil {
		return x
	}
	if c, err := l.cutter(st.Record.Inputs.Cutter); err == nil {
		x.Cutter = c.Name
		if with := st.Record.Inputs.With; with != "" {
			x.Cutter += " with " + with
			if w, err := l.cutter(with); err == nil {
				x.Cutter = c.Name + " with " + w.Name
			}
		}
	}
	if r, ok := st.Record.Last(); ok {
		x.Last = readingWords(r, l.shop.Units)
	}
	return x
}

// mostDrawing is the size of a drawing in bytes above which it is not shown.
const mostDrawing = 4 << 20

// drawing is the fixture's drawing exchange file; nil where it has none, or none that
// can be read. Nothing is followed out of the shelf's folder.
func (l *library) drawing(x posts.Shelved) []byte {
	if x.Record == nil {
		return nil
	}
	for _, ext := range []string{"dxf", "r12.dxf"} {
		if _, ok := x.Record.File(ext); !ok {
			continue
		}
		root, err := os.OpenRoot(l.Dir())
		if err != nil {
			return nil
		}
		defer root.Close()
		f, err := root.Open(filepath.Join(x.ID, x.ID+"."+ext))
		if err != nil {
			return nil
		}
		defer f.Close()
		if text, err := io.ReadAll(io.LimitReader(f, mostDrawing+1)); err == nil && len(text) <= mostDrawing {
			return text
		}
		return nil
	}
	return nil
}

// linkTo is the address of the folder dir for links on the page, "" for the page's own
// folder.
func linkTo(dir, page string) (string, error) {
	from, err := filepath.Abs(filepath.Dir(page))
	if err != nil {
		return "", &fileError{err}
	}
	if dir, err = filepath.Abs(dir); err != nil {
		return "", &fileError{err}
	}
	rel, err := filepath.Rel(from, dir)
	if err != nil {
		return "", &fileError{err}
	}
	if rel == "." {
		return "", nil
	}
	return "./" + (&url.URL{Path: filepath.ToSlash(rel)}).EscapedPath() + "/", nil
}
