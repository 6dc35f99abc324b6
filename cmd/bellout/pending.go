package main

import (
	"context"

	"github.com/spf13/cobra"
)

func pending(use string) *cobra.Command {
	return &cobra.Command{Use: use, Short: "pending", RunE: func(*cobra.Command, []string) error { return nil }}
}
func newJobCommand(w *world) *cobra.Command   { return pending("new JOB") }
func openCommand(w *world) *cobra.Command     { return pending("open JOB") }
func pinoutCommand(w *world) *cobra.Command   { return pending("pinout JOB") }
func tableCommand(w *world) *cobra.Command    { return pending("table JOB") }
func planCommand(w *world) *cobra.Command     { return pending("plan") }
func roadsideCommand(w *world) *cobra.Command { return pending("roadside") }

type screenOptions struct{ plain bool }

func (o *screenOptions) register(c *cobra.Command) {
	c.Flags().BoolVar(&o.plain, "plain", false, "plain lines instead of screens")
}
func openList(ctx context.Context, w *world) error                      { return nil }
func demoScreen(ctx context.Context, w *world, o screenOptions) error { return nil }
