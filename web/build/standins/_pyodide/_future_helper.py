"""In place of what ends a future of asyncio: see asyncio beside this."""
