//! Physical quantities as people write them, and back: SI inside, angler's units at the edge.
