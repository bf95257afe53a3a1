"""The sub-commands of `yardhand`, a module a family; bot/cli.py holds the only list of them."""
