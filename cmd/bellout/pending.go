package main

import "github.com/spf13/cobra"

func pending(use string) *cobra.Command {
	return &cobra.Command{Use: use, Short: "pending", RunE: func(*cobra.Command, []string) error { return nil }}
}
func planCommand(w *world) *cobra.Command     { return pending("plan") }
func roadsideCommand(w *world) *cobra.Command { return pending("roadside") }
