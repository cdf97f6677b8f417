"""Nothing that a test builds is remembered in the cache folder of whoever runs the tests."""

import os

os.environ["ANNULET_CACHE"] = "off"
