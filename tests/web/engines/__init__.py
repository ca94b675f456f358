"""Three browser engines behind one small interface, and the journeys that each of them must get through."""
