//! Sets of groups of assumptions.

use super::parameter::Group;

/// A set of groups of assumptions: which of them act, or which are neutral.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Groups(u8);

impl Groups {
    /// None.
    pub const NONE: Groups = Groups(0);
    /// All seven.
    pub const ALL: Groups = Groups((1 << Group::ALL.len()) - 1);
    /// How many sets there are.
    pub const COUNT: usize = 1 << Group::ALL.len();
    /// Physics and measurement: light and water, line and swimming.
    pub const PHYSICS: Groups = Groups::NONE.with(Group::Optics).with(Group::Mechanics);

    /// The set whose number is `number`, bit i for group i of [`Group::ALL`]; higher bits are dropped.
    pub const fn numbered(number: usize) -> Self {
        Groups(number as u8 & Groups::ALL.0)
    }
    /// The number of this set, from 0 to [`Groups::COUNT`] - 1.
    pub const fn number(self) -> usize {
        self.0 as usize
    }
    /// Every set, by number.
    pub fn every() -> impl Iterator<Item = Groups> {
        (0..Groups::COUNT).map(Groups::numbered)
    }
    /// Whether `group` is in.
    pub const fn has(self, group: Group) -> bool {
        self.0 & (1 << group as u8) != 0
    }
    /// With `group` in.
    pub const fn with(self, group: Group) -> Self {
        Groups(self.0 | (1 << group as u8))
    }
    /// What is in both.
    pub const fn and(self, other: Groups) -> Self {
        Groups(self.0 & other.0)
    }
    /// What is in either.
    pub const fn or(self, other: Groups) -> Self {
        Groups(self.0 | other.0)
    }
    /// All groups that are not in.
    pub const fn others(self) -> Self {
        Groups(!self.0 & Groups::ALL.0)
    }
}

impl FromIterator<Group> for Groups {
    fn from_iter<I: IntoIterator<Item = Group>>(groups: I) -> Self {
        groups.into_iter().fold(Groups::NONE, Groups::with)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sets_and_their_numbers() {
        assert!(Groups::every().enumerate().all(|(i, s)| s.number() == i));
        assert_eq!(Groups::every().count(), 128);
        for (i, g) in Group::ALL.into_iter().enumerate() {
            assert_eq!(Groups::NONE.with(g).number(), 1 << i, "bits follow the order of the groups");
            assert!(!Groups::NONE.with(g).others().has(g));
        }
        assert_eq!([Group::Optics, Group::Mechanics].into_iter().collect::<Groups>(), Groups::PHYSICS);
        assert_eq!(Group::ALL.into_iter().collect::<Groups>(), Groups::ALL);
        assert_eq!(Groups::PHYSICS.others().and(Groups::PHYSICS), Groups::NONE);
    }
}
