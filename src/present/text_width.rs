//! How wide text is, without a font library: advance widths of DejaVu Sans, in 1/2048 of the type size.
//!
//! Layouts must know the width of a label before anything draws it, in places where no font is at hand
//! (the browser, the bare library). The tables were read from the `cmap` and `hmtx` tables of DejaVu
//! Sans 2.37, regular and bold; `tests/present.rs` holds every entry against the font. Kerning only
//! ever moves DejaVu's letters by a few units and is left out.
use super::scene::Weight;

/// Units of the tables to one type size (the font's units per em).
const UNITS_PER_EM: f64 = 2048.0;
/// Greek and Cyrillic letters that have no entry: a little above their mean in the font (0.66).
const GREEK_CYRILLIC_EM: f64 = 0.75;
/// Anything else: a full square, wider than nearly every glyph, so that labels are never too long.
const UNKNOWN_EM: f64 = 1.0;

/// Space to tilde (U+0020 to U+007E), regular.
#[rustfmt::skip]
const ASCII_REGULAR: [u16; 95] = [
    651, 821, 942, 1716, 1303, 1946, 1597, 563, 799, 799, 1024, 1716, 651, 739, 651, 690, 1303, 1303,
    1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 690, 690, 1716, 1716, 1716, 1087, 2048, 1401, 1405, 1430,
    1577, 1294, 1178, 1587, 1540, 604, 604, 1343, 1141, 1767, 1532, 1612, 1235, 1612, 1423, 1300, 1251, 1499,
    1401, 2025, 1403, 1251, 1403, 799, 690, 799, 1716, 1024, 1024, 1255, 1300, 1126, 1300, 1260, 721, 1300,
    1298, 569, 569, 1186, 569, 1995, 1298, 1253, 1300, 1300, 842, 1067, 803, 1298, 1212, 1675, 1212, 1212,
    1075, 1303, 690, 1303, 1716,
];
/// Space to tilde, bold.
#[rustfmt::skip]
const ASCII_BOLD: [u16; 95] = [
    713, 934, 1067, 1716, 1425, 2052, 1786, 627, 936, 936, 1071, 1716, 778, 850, 778, 748, 1425, 1425,
    1425, 1425, 1425, 1425, 1425, 1425, 1425, 1425, 819, 819, 1716, 1716, 1716, 1188, 2048, 1585, 1561, 1503,
    1700, 1399, 1399, 1681, 1714, 762, 762, 1587, 1305, 2038, 1714, 1741, 1501, 1741, 1577, 1475, 1397, 1663,
    1585, 2259, 1579, 1483, 1485, 936, 748, 936, 1716, 1024, 1024, 1382, 1466, 1214, 1466, 1389, 891, 1466,
    1458, 702, 702, 1362, 702, 2134, 1458, 1407, 1466, 1466, 1010, 1219, 979, 1458, 1335, 1892, 1321, 1335,
    1192, 1458, 748, 1458, 1716,
];
/// U+00A0 to U+00FF, regular.
#[rustfmt::skip]
const LATIN_REGULAR: [u16; 96] = [
    651, 821, 1303, 1303, 1303, 1303, 690, 1024, 1024, 2048, 965, 1253, 1716, 739, 2048, 1024, 1024, 1716,
    821, 821, 1024, 1303, 1303, 651, 1024, 821, 965, 1253, 1985, 1985, 1985, 1087, 1401, 1401, 1401, 1401,
    1401, 1401, 1995, 1430, 1294, 1294, 1294, 1294, 604, 604, 604, 604, 1587, 1532, 1612, 1612, 1612, 1612,
    1612, 1716, 1612, 1499, 1499, 1499, 1499, 1251, 1239, 1290, 1255, 1255, 1255, 1255, 1255, 1255, 2011, 1126,
    1260, 1260, 1260, 1260, 569, 569, 569, 569, 1253, 1298, 1253, 1253, 1253, 1253, 1253, 1716, 1253, 1298,
    1298, 1298, 1298, 1212, 1300, 1212,
];
/// U+00A0 to U+00FF, bold.
#[rustfmt::skip]
const LATIN_BOLD: [u16; 96] = [
    713, 934, 1425, 1425, 1303, 1425, 748, 1024, 1024, 2048, 1155, 1323, 1716, 850, 2048, 1024, 1024, 1716,
    897, 897, 1024, 1507, 1303, 778, 1024, 897, 1155, 1323, 2120, 2120, 2120, 1188, 1585, 1585, 1585, 1585,
    1585, 1585, 2222, 1503, 1399, 1399, 1399, 1399, 762, 762, 762, 762, 1716, 1714, 1741, 1741, 1741, 1741,
    1741, 1716, 1741, 1663, 1663, 1663, 1663, 1483, 1511, 1473, 1382, 1382, 1382, 1382, 1382, 1382, 2146, 1214,
    1389, 1389, 1389, 1389, 702, 702, 702, 702, 1407, 1458, 1407, 1407, 1407, 1407, 1407, 1716, 1407, 1458,
    1458, 1458, 1458, 1335, 1466, 1335,
];

/// Signs that captions and units use: (character, regular, bold).
#[rustfmt::skip]
const SIGNS: [(char, u16, u16); 18] = [
    ('–', 1024, 1024), ('—', 2048, 2048), ('‘', 651, 778), ('’', 651, 778), ('“', 1061, 1346),
    ('”', 1061, 1346), ('…', 2048, 2048), ('•', 1208, 1309), ('−', 1716, 1716), ('≤', 1716, 1716),
    ('≥', 1716, 1716), ('≈', 1716, 1716), ('→', 1716, 1716), ('θ', 1253, 1407), ('μ', 1303, 1507),
    ('λ', 1212, 1296), ('▲', 1575, 1575), ('▼', 1575, 1575),
];

/// Every character with an exact entry, for the check against the font.
pub fn measured_characters() -> impl Iterator<Item = char> {
    (' '..='~').chain('\u{a0}'..='\u{ff}').chain(SIGNS.iter().map(|s| s.0))
}

/// The width of one character in type sizes.
fn char_em(c: char, weight: Weight) -> f64 {
    let pick = |regular: u16, bold: u16| {
        f64::from(if weight == Weight::Bold { bold } else { regular }) / UNITS_PER_EM
    };
    let code = c as usize;
    if let (Some(&r), Some(&b)) = (
        code.checked_sub(0x20).and_then(|i| ASCII_REGULAR.get(i)),
        code.checked_sub(0x20).and_then(|i| ASCII_BOLD.get(i)),
    ) {
        return pick(r, b);
    }
    if let (Some(&r), Some(&b)) = (
        code.checked_sub(0xa0).and_then(|i| LATIN_REGULAR.get(i)),
        code.checked_sub(0xa0).and_then(|i| LATIN_BOLD.get(i)),
    ) {
        return pick(r, b);
    }
    if let Some(&(_, r, b)) = SIGNS.iter().find(|s| s.0 == c) {
        return pick(r, b);
    }
    match c {
        '\u{300}'..='\u{36f}' => 0.0,
        '\u{370}'..='\u{52f}' => GREEK_CYRILLIC_EM,
        _ => UNKNOWN_EM,
    }
}

/// The width in px of `text` set at `size_px`.
pub fn text_width(text: &str, size_px: f64, weight: Weight) -> f64 {
    text.chars().map(|c| char_em(c, weight)).sum::<f64>() * size_px
}

/// `text` itself if it is at most `max_px` wide, otherwise as much of it as fits with an ellipsis.
pub fn fit(text: &str, size_px: f64, weight: Weight, max_px: f64) -> String {
    if text_width(text, size_px, weight) <= max_px {
        return text.to_owned();
    }
    let room = max_px - text_width("…", size_px, weight);
    let mut used = 0.0;
    let mut kept = String::new();
    for c in text.chars() {
        used += char_em(c, weight) * size_px;
        if used > room {
            break;
        }
        kept.push(c);
    }
    let mut kept = kept.trim_end().to_owned();
    if room >= 0.0 {
        kept.push('…');
    }
    kept
}

/// `text` broken at spaces into lines at most `max_px` wide, at most `max_lines` of them; a word longer
/// than a line, and what does not fit into the last line, end in an ellipsis.
pub fn wrap(text: &str, size_px: f64, weight: Weight, max_px: f64, max_lines: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut words = text.split_whitespace().peekable();
    while words.peek().is_some() && lines.len() < max_lines {
        let last = lines.len() + 1 == max_lines;
        let mut line = String::new();
        while let Some(word) = words.peek() {
            let longer = if line.is_empty() { (*word).to_owned() } else { format!("{line} {word}") };
            if line.is_empty() || text_width(&longer, size_px, weight) <= max_px {
                line = longer;
                words.next();
            } else {
                break;
            }
        }
        if last && words.peek().is_some() {
            let rest: Vec<&str> = words.by_ref().collect();
            line = format!("{line} {}", rest.join(" "));
        }
        lines.push(fit(&line, size_px, weight, max_px));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fitted_label_is_never_wider_than_its_room() {
        let long = "Word ".repeat(100);
        for room in [0.0, 5.0, 14.0, 60.0, 333.0] {
            let kept = fit(&long, 15.0, Weight::Bold, room);
            assert!(text_width(&kept, 15.0, Weight::Bold) <= room, "{kept} in {room}");
        }
        assert_eq!(fit("short", 15.0, Weight::Regular, 100.0), "short");
        assert!(fit(&long, 15.0, Weight::Regular, 100.0).ends_with('…'));
    }

    #[test]
    fn wrapping_keeps_every_word_when_there_is_room() {
        let text = "one two three four five six seven";
        let lines = wrap(text, 16.0, Weight::Regular, 90.0, 99);
        assert!(lines.len() > 2);
        assert_eq!(lines.join(" "), text);
        assert!(lines.iter().all(|l| text_width(l, 16.0, Weight::Regular) <= 90.0));
        let cut = wrap(text, 16.0, Weight::Regular, 90.0, 2);
        assert_eq!(cut.len(), 2);
        assert!(cut[1].ends_with('…'));
        assert!(wrap("", 16.0, Weight::Regular, 90.0, 3).is_empty());
    }
}
