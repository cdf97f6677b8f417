"""What the parser does when it has recognised a rule: builds the node. A file for each group of constructs."""
