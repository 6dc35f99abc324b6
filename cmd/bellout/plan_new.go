package main

import "github.com/spf13/cobra"

func planNewCommand(w *world) *cobra.Command {
	var out output
	c := &cobra.Command{Use: "new JOB", Short: "pending", Args: exactly("JOB"), RunE: func(*cobra.Command, []string) error { return nil }}
	c.Flags().StringVarP(&out.path, "output", "o", "", "write to `FILE`")
	return c
}
