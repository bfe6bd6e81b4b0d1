//! Plain names for enums, so that files, answers and the command line spell them alike.

/// Gives an enum its plain names: `label` writes one, `from_label` reads one, `ALL` has them in order.
macro_rules! labelled {
    ($kind:ty { $($variant:ident => $label:literal),+ $(,)? }) => {
        impl $kind {
            /// Every value, in its natural order.
            pub const ALL: &'static [$kind] = &[$(<$kind>::$variant),+];
            /// Every name, in the same order.
            pub const LABELS: &'static [&'static str] = &[$($label),+];

            /// The name used in scenario files and answers.
            pub fn label(self) -> &'static str {
                match self { $(<$kind>::$variant => $label),+ }
            }

            /// The value of that name, without regard to case.
            pub fn from_label(label: &str) -> Option<$kind> {
                Self::ALL.iter().copied().find(|value| value.label().eq_ignore_ascii_case(label.trim()))
            }
        }
    };
}
pub(crate) use labelled;
