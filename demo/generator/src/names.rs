//! Invented names of routes.

use crate::dice::Dice;
use crate::region::Where;

const HARL: ([&str; 12], [&str; 12]) = (
    ["Blind", "Cold", "Plumb", "Tallow", "Split", "Grey", "Idle", "Rusty", "Half", "Long", "Second", "Frost"],
    [
        "Corner",
        "Chisel",
        "Ledger",
        "Winch",
        "Barrow",
        "Whistle",
        "Powder",
        "Rib",
        "Shift",
        "Lantern",
        "Stair",
        "Apprentice",
    ],
);
const TERN: ([&str; 12], [&str; 12]) = (
    [
        "Salt", "Café", "Wet", "Brine", "Low", "Gull's", "Drowned", "White", "Slack", "Seventh", "Sour",
        "Paper",
    ],
    [
        "Pocket",
        "Tide",
        "Noir",
        "Lamp",
        "Pilot",
        "Widow",
        "Ferry",
        "Ladder",
        "Anchorite",
        "Biscuit",
        "Horizon",
        "Knot",
    ],
);
const OTTER: ([&str; 12], [&str; 12]) = (
    [
        "Mud", "Alder", "Slippery", "Brown", "Soft", "Heron", "Mossy", "Flood", "Reed", "Damp", "Willow",
        "Otter's",
    ],
    [
        "Slab", "Ford", "Crumble", "Mark", "Eddy", "Holiday", "Sermon", "Biscuit", "Weir", "Picnic",
        "Bridge", "Lullaby",
    ],
);

/// So many different names for routes at a crag.
pub(crate) fn routes(here: Where, count: usize, dice: &mut Dice) -> Vec<String> {
    let (first, second) = match here {
        Where::Harl => HARL,
        Where::Tern => TERN,
        Where::Otter => OTTER,
    };
    let mut names: Vec<String> =
        first.iter().flat_map(|a| second.iter().map(move |b| format!("{a} {b}"))).collect();
    dice.shuffle(&mut names);
    names.truncate(count);
    names
}

/// Readable identity: lower case, without accents, words joined by hyphens.
pub(crate) fn slug(name: &str) -> String {
    let mut slug = String::new();
    for letter in name.chars() {
        match letter {
            'é' => slug.push('e'),
            '\'' => {}
            _ if letter.is_ascii_alphanumeric() => slug.push(letter.to_ascii_lowercase()),
            _ if !slug.is_empty() && !slug.ends_with('-') => slug.push('-'),
            _ => {}
        }
    }
    slug.trim_end_matches('-').to_owned()
}
