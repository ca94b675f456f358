"""The steps of the build, one idea a module. Plain standard library: they run before anything is installed."""
