//! Colours that stay apart for colour-blind eyes and in grey print.
//!
//! The seven colours for baits were found for this project by a search: they had to differ by at least
//! [`LEAST_DIFFERENCE`] in CIE Lab to the normal eye and to simulated protanopes and deuteranopes, and
//! by [`LEAST_LIGHTNESS_STEP`] in lightness so that they print as seven greys. The tests hold both.
use super::scene::{Colour, Dash};

/// White.
pub const PAPER: Colour = Colour(255, 255, 255);
/// Text and axes.
pub const INK: Colour = Colour(0x1b, 0x27, 0x31);
/// Secondary text.
pub const MUTED: Colour = Colour(0x5a, 0x68, 0x72);
/// Marks of what is shown only for comparison.
pub const FAINT: Colour = Colour(0xa9, 0xb4, 0xbb);
/// Grid lines and frames.
pub const HAIRLINE: Colour = Colour(0xdd, 0xe3, 0xe7);
/// Where it cannot be told.
pub const UNTOLD: Colour = Colour(0xe6, 0xe7, 0xe8);
/// The one colour of the answer itself.
pub const ACCENT: Colour = Colour(0x18, 0x35, 0x5d);
/// Sunlight, sunrise, what warns.
pub const SUN: Colour = Colour(0xdc, 0x92, 0x2c);

/// Colours of baits and series, in the order of use: neighbours differ most.
pub const SERIES: [Colour; 7] = [
    Colour(0x18, 0x35, 0x5d), // deep blue
    Colour(0xdc, 0x92, 0x2c), // amber
    Colour(0x30, 0x82, 0x87), // teal
    Colour(0x80, 0x28, 0x02), // rust
    Colour(0xaa, 0x75, 0xc7), // lilac
    Colour(0x45, 0x6d, 0x4b), // moss
    Colour(0x94, 0xbf, 0xd3), // pale sky
];

/// Smallest CIE Lab difference (CIE 1976) between two of [`SERIES`], to normal, protanopic and
/// deuteranopic eyes. About 2.3 is just noticeable side by side; ten times that is safe across a page.
pub const LEAST_DIFFERENCE: f64 = 22.0;
/// Smallest step in CIE lightness L* between any two of [`SERIES`].
pub const LEAST_LIGHTNESS_STEP: f64 = 7.0;

/// Colour and dash of the `i`-th series: the dash changes along with the colour and keeps on changing
/// when the colours come round again, so that no two of the first 28 look alike.
pub fn series(i: usize) -> (Colour, Dash) {
    let dashes = [Dash::Solid, Dash::Dashed, Dash::DashDot, Dash::Dotted];
    let n = SERIES.len();
    (SERIES[i % n], dashes[(i % n + i / n) % dashes.len()])
}

/// Ink or white, whichever stands out more on `background` (contrast ratio of WCAG 2.1).
pub fn ink_on(background: Colour) -> Colour {
    let luminance = |c: Colour| relative_luminance(c) + 0.05;
    let (b, ink, paper) = (luminance(background), luminance(INK), luminance(PAPER));
    if paper / b > b / ink { PAPER } else { INK }
}

/// sRGB's relative luminance, 0 (black) to 1 (white) (IEC 61966-2-1).
pub fn relative_luminance(c: Colour) -> f64 {
    let [r, g, b] = linear_rgb(c);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// The channels in proportion to light, 0 to 1 (IEC 61966-2-1).
fn linear_rgb(c: Colour) -> [f64; 3] {
    [c.0, c.1, c.2].map(|v| {
        let s = f64::from(v) / 255.0;
        if s <= 0.040_45 { s / 12.92 } else { ((s + 0.055) / 1.055).powf(2.4) }
    })
}

/// A shade of the diverging scale for -1 (amber) over 0 (white) to 1 (deep blue).
pub fn diverging(t: f64) -> Colour {
    let t = if t.is_finite() { t.clamp(-1.0, 1.0) } else { 0.0 };
    if t < 0.0 { PAPER.towards(SERIES[1], -t) } else { PAPER.towards(SERIES[0].towards(PAPER, 0.18), t) }
}

/// A shade for an amount of light: 0 is the darkest shown, 1 the brightest. Lightness rises all along.
pub fn light_shade(t: f64) -> Colour {
    const STOPS: [Colour; 6] = [
        Colour(0x0b, 0x16, 0x26),
        Colour(0x17, 0x36, 0x54),
        Colour(0x2d, 0x5f, 0x82),
        Colour(0x62, 0x93, 0xae),
        Colour(0xab, 0xcb, 0xd3),
        Colour(0xf4, 0xf1, 0xdf),
    ];
    let t = if t.is_finite() { t.clamp(0.0, 1.0) } else { 0.0 } * (STOPS.len() - 1) as f64;
    let i = (t as usize).min(STOPS.len() - 2);
    STOPS[i].towards(STOPS[i + 1], t - i as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CIE 1976 L*a*b* of light in linear sRGB, white point D65 (matrix of IEC 61966-2-1).
    fn lab(rgb: [f64; 3]) -> [f64; 3] {
        const M: [[f64; 3]; 3] = [
            [0.412_456_4, 0.357_576_1, 0.180_437_5],
            [0.212_672_9, 0.715_152_2, 0.072_175],
            [0.019_333_9, 0.119_192, 0.950_304_1],
        ];
        let f = M.map(|row| {
            let (x, white) = (row.iter().zip(rgb).map(|(m, v)| m * v).sum::<f64>(), row.iter().sum::<f64>());
            let t = x / white;
            if t > 216.0 / 24_389.0 { t.cbrt() } else { (24_389.0 / 27.0 * t + 16.0) / 116.0 }
        });
        [116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]), 200.0 * (f[1] - f[2])]
    }

    /// What dichromats see: Vienot, Brettel & Mollon (1999), Color Res. Appl. 24:243,
    /// doi 10.1002/(SICI)1520-6378(199908)24:4<243::AID-COL5>3.0.CO;2-3 (matrices from memory).
    const EYES: [[[f64; 3]; 3]; 3] = [
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        [[0.112_38, 0.887_62, 0.0], [0.112_38, 0.887_62, 0.0], [0.004_01, -0.004_01, 1.0]],
        [[0.292_75, 0.707_25, 0.0], [0.292_75, 0.707_25, 0.0], [-0.022_34, 0.022_34, 1.0]],
    ];

    fn seen(c: Colour, eye: &[[f64; 3]; 3]) -> [f64; 3] {
        let rgb = linear_rgb(c);
        lab(eye.map(|row| row.iter().zip(rgb).map(|(m, v)| m * v).sum::<f64>().clamp(0.0, 1.0)))
    }

    fn difference(a: [f64; 3], b: [f64; 3]) -> f64 {
        a.iter().zip(b).map(|(x, y)| (x - y) * (x - y)).sum::<f64>().sqrt()
    }

    fn smallest_difference(colours: &[Colour]) -> f64 {
        let mut least = f64::INFINITY;
        for eye in &EYES {
            for (i, &a) in colours.iter().enumerate() {
                for &b in &colours[..i] {
                    least = least.min(difference(seen(a, eye), seen(b, eye)));
                }
            }
        }
        least
    }

    #[test]
    fn lab_of_known_colours() {
        // sRGB red in CIE Lab, D65: 53.24, 80.09, 67.20 (published widely, from memory).
        let red = lab(linear_rgb(Colour(255, 0, 0)));
        assert!(difference(red, [53.24, 80.09, 67.20]) < 0.05, "{red:?}");
        assert!((lab(linear_rgb(PAPER))[0] - 100.0).abs() < 1e-9);
    }

    #[test]
    fn series_stay_apart_for_every_eye() {
        let least = smallest_difference(&SERIES);
        assert!(least >= LEAST_DIFFERENCE, "{least}");
        // The check can fail: a red and a green of like lightness run together.
        assert!(
            smallest_difference(&[Colour(0xc0, 0x50, 0x40), Colour(0x70, 0x7c, 0x30)]) < LEAST_DIFFERENCE
        );
    }

    #[test]
    fn series_stay_apart_in_grey() {
        let mut l: Vec<f64> = SERIES.iter().map(|&c| seen(c, &EYES[0])[0]).collect();
        l.sort_by(f64::total_cmp);
        for pair in l.windows(2) {
            assert!(pair[1] - pair[0] >= LEAST_LIGHTNESS_STEP, "{l:?}");
        }
    }

    #[test]
    fn no_two_of_the_first_28_series_look_alike() {
        let styles: Vec<_> = (0..28).map(series).collect();
        for (i, a) in styles.iter().enumerate() {
            assert!(!styles[..i].contains(a), "series {i}");
        }
    }

    #[test]
    fn light_shades_rise_in_lightness() {
        let l: Vec<f64> = (0..=50).map(|i| seen(light_shade(f64::from(i) / 50.0), &EYES[0])[0]).collect();
        assert!(l.windows(2).all(|p| p[1] > p[0]), "{l:?}");
    }

    #[test]
    fn text_is_readable_on_every_colour() {
        // WCAG 2.1 asks 4.5 to 1 for text, 3 to 1 for large text; chart labels are bold and large.
        for c in SERIES.into_iter().chain([PAPER, UNTOLD, FAINT]) {
            let (a, b) = (relative_luminance(c) + 0.05, relative_luminance(ink_on(c)) + 0.05);
            assert!(a.max(b) / a.min(b) >= 3.5, "{c:?}");
        }
        for c in [INK, MUTED] {
            assert!(1.05 / (relative_luminance(c) + 0.05) >= 4.5, "{c:?}");
        }
    }
}
