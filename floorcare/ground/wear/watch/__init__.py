"""Watches over what was read: traffic that changed, meters that drift, work that did not hold."""
