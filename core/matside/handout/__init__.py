"""What is printed and handed out: sheets to cut from, charts and templates."""
