"""From the weave to the steps of the booklet, told with typed words."""
