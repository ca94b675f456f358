"""What goes round and under the patchwork: borders, binding, backing and batting."""
