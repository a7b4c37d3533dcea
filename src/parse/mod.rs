//! Text to `ParsedJob`: KDL, spans, and the spelling of nodes. Knows no geometry and no cloth.
