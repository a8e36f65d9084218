//! Charts (SVG) and the crag report (PDF).
