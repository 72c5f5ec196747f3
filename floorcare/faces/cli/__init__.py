"""Commands: parse, call a service, print, exit."""
