//! Letters that stand for baits in tables and in drawings of characters.

use super::escape::terminal_text;

const LETTERS: &[u8; 26] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ";
/// Stands for a bait that has no letter.
pub const OTHER: char = '*';

/// Baits in the order in which they get letters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Letters(Vec<usize>);

impl Letters {
    /// Each bait once, in the order of its first mention.
    pub fn of(mentioned: impl IntoIterator<Item = usize>) -> Self {
        let mut order: Vec<usize> = Vec::new();
        mentioned.into_iter().for_each(|bait| {
            if !order.contains(&bait) {
                order.push(bait);
            }
        });
        Self(order)
    }

    /// The baits in order.
    pub fn baits(&self) -> &[usize] {
        &self.0
    }

    /// The letter of a bait, or [`OTHER`].
    pub fn letter(&self, bait: usize) -> char {
        let known = self.0.iter().position(|b| *b == bait).and_then(|i| LETTERS.get(i));
        known.map_or(OTHER, |l| char::from(*l))
    }

    /// The letters of a set of baits, in order, parted by spaces.
    pub fn of_set(&self, set: &[usize]) -> String {
        let mut all: Vec<String> = set.iter().map(|&b| self.letter(b).to_string()).collect();
        all.sort();
        all.join(" ")
    }

    /// Which letter is which bait, a line each; `said` gives the words for a bait.
    pub fn legend(&self, said: impl Fn(usize) -> String) -> String {
        let line = |b: &usize| format!("  {}  {}\n", self.letter(*b), terminal_text(&said(*b)));
        let mut all: String = self.0.iter().take(LETTERS.len()).map(line).collect();
        if self.0.len() > LETTERS.len() {
            all.push_str(&format!("  {OTHER}  one of the others\n"));
        }
        all
    }
}
