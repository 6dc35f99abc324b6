package main

import (
	"github.com/spf13/cobra"
)

var shells = []string{"bash", "zsh", "fish", "powershell"}

func completionCommand(w *world, root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "print the completion script for bash, zsh, fish or powershell",
		Example: `  source <(bellout completion bash)
  bellout completion fish > ~/.config/fish/completions/bellout.fish`,
		Args:              exactly("SHELL: bash, zsh, fish or powershell"),
		ValidArgsFunction: words(shells...),
		RunE: func(_ *cobra.Command, args []string) error {
			switch args[0] {
			case "bash":
				return root.GenBashCompletionV2(w.out, true)
			case "zsh":
				return root.GenZshCompletion(w.out)
			case "fish":
				return root.GenFishCompletion(w.out, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(w.out)
			}
			return usageProblem("there is no completion for "+args[0], "it is one of bash, zsh, fish, powershell")
		},
	}
}
