//! The logical structure of the document, for readers that do not see the page.

/// What a part of the document is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Role {
    /// A heading with its level (1 to 3) and its text.
    Heading(u8, String),
    /// A paragraph.
    Paragraph,
    /// A list.
    List,
    /// An item of a list.
    Item,
    /// The text of an item.
    Body,
    /// A picture with its description.
    Figure(String),
    /// A table with its summary.
    Table(String),
    /// A row.
    Row,
    /// A column's head.
    Head,
    /// A cell.
    Cell,
}

/// A part and the parts within it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Node {
    pub role: Role,
    pub children: Vec<usize>,
}

/// All parts; those not within another are in `roots`.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Tree {
    pub nodes: Vec<Node>,
    pub roots: Vec<usize>,
}

impl Tree {
    /// Adds a part, within `parent` if given.
    pub fn add(&mut self, role: Role, parent: Option<usize>) -> usize {
        let id = self.nodes.len();
        self.nodes.push(Node { role, children: Vec::new() });
        match parent {
            Some(p) => self.nodes[p].children.push(id),
            None => self.roots.push(id),
        }
        id
    }
}
