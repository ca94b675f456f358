"""How large a quilt is: usual sizes, what a wanted size takes, what so many pieces make."""
