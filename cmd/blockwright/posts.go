package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"blockwright/posts"
)

// A postItem is a line of the list of posts.
type postItem struct {
	Post string `json:"post"`
	Ext  string `json:"ext"`
	What string `json:"what"`
}

func newPostsCmd(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "posts",
		Short: "List the formats that make writes",
		Long: `Posts lists the formats by the name that --post takes, with the endings of the
files they write.

Exit status is 0, or 3 for a wrong command line.`,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			items := []postItem{}
			for _, w := range posts.Writers() {
				items = append(items, postItem{w.Post, w.Ext, w.Long})
			}
			return s.result(map[string]any{"posts": items}, func(w io.Writer) error {
				t := tabwriter.NewWriter(w, 0, 4, 2, ' ', 0)
				for _, i := range items {
					fmt.Fprintf(t, "%s\t.%s\t%s\n", i.Post, i.Ext, i.What)
				}
				return t.Flush()
			})
		},
	}
}
