//! The colour space sRGB as a profile (IEC 61966-2-1; ICC.1:1998-09, version 2.1 of the format, which is as new as PDF 1.4
//! knows): made here from the published figures, since the libraries at hand write version 4 only.

/// The primaries and the white of IEC 61966-2-1, which are those of ITU-R BT.709, as `x` and `y`.
const PRIMARIES: [[f64; 2]; 3] = [[0.64, 0.33], [0.30, 0.60], [0.15, 0.06]];
const WHITE: [f64; 2] = [0.3127, 0.3290];

/// The white to which profiles refer, D50 (ICC.1).
const REFERENCE: [f64; 3] = [0.9642, 1.0, 0.8249];

/// The cone responses by which a white is exchanged for another (Bradford, as ICC.1 has it in later editions).
const CONES: Matrix = [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]];

const DESCRIPTION: &str = "sRGB, IEC 61966-2-1";

/// Steps of the curve.
const STEPS: u16 = 1_024;

type Matrix = [[f64; 3]; 3];

/// Its name in words.
pub(super) const fn description() -> &'static str {
    DESCRIPTION
}

/// The profile.
pub(super) fn profile() -> Vec<u8> {
    let [red, green, blue] = adapted();
    let curve = curve();
    let tags: [(&[u8; 4], Vec<u8>); 7] = [
        (b"desc", described()),
        (b"cprt", text("No rights reserved")),
        (b"wtpt", xyz(&[from_white(WHITE)])),
        (b"rXYZ", xyz(&[red])),
        (b"gXYZ", xyz(&[green])),
        (b"bXYZ", xyz(&[blue])),
        (b"rTRC", curve),
    ];
    let count = tags.len() + 2;
    let (mut table, mut data) = (Vec::new(), Vec::new());
    let start = HEADER + 4 + count * 12;
    let mut entry = |name: &[u8; 4], at: usize, size: usize| {
        table.extend_from_slice(name);
        table.extend_from_slice(&four(at));
        table.extend_from_slice(&four(size));
    };
    for (name, mut content) in tags {
        let (at, size) = (start + data.len(), content.len());
        entry(name, at, size);
        if name == b"rTRC" {
            // All three have the same curve.
            entry(b"gTRC", at, size);
            entry(b"bTRC", at, size);
        }
        content.resize(size.next_multiple_of(4), 0);
        data.append(&mut content);
    }
    [header(start + data.len()), four(count).to_vec(), table, data].concat()
}

const HEADER: usize = 128;

/// Class, colour space, connection space, signature, reference white; what is not said is zero. The date is none of the
/// clock's: that of the edition of IEC 61966-2-1.
fn header(size: usize) -> Vec<u8> {
    let mut header = four(size).to_vec();
    header.extend_from_slice(&[0; 4]);
    header.extend_from_slice(&[2, 0x10, 0, 0]);
    header.extend_from_slice(b"mntrRGB XYZ ");
    for part in [1999_u16, 10, 1, 0, 0, 0] {
        header.extend_from_slice(&part.to_be_bytes());
    }
    header.extend_from_slice(b"acsp");
    header.resize(68, 0);
    REFERENCE.iter().for_each(|part| header.extend_from_slice(&fixed(*part)));
    header.resize(HEADER, 0);
    header
}

/// The description: plain, and empty in the two further forms that version 2 asks for.
fn described() -> Vec<u8> {
    let mut content = b"desc\0\0\0\0".to_vec();
    content.extend_from_slice(&four(DESCRIPTION.len() + 1));
    content.extend_from_slice(DESCRIPTION.as_bytes());
    content.extend_from_slice(&[0; 1 + 4 + 4 + 2 + 1 + 67]);
    content
}

fn text(words: &str) -> Vec<u8> {
    [b"text\0\0\0\0", words.as_bytes(), b"\0"].concat()
}

fn xyz(colours: &[[f64; 3]]) -> Vec<u8> {
    let mut content = b"XYZ \0\0\0\0".to_vec();
    colours.iter().flatten().for_each(|part| content.extend_from_slice(&fixed(*part)));
    content
}

/// From a signal to light, in equal steps.
fn curve() -> Vec<u8> {
    let mut content = b"curv\0\0\0\0".to_vec();
    content.extend_from_slice(&u32::from(STEPS).to_be_bytes());
    for step in 0..STEPS {
        let light = light(f64::from(step) / f64::from(STEPS - 1));
        content.extend_from_slice(&sixteen_bits(light).to_be_bytes());
    }
    content
}

/// The curve of IEC 61966-2-1.
fn light(signal: f64) -> f64 {
    if signal <= 0.040_45 { signal / 12.92 } else { ((signal + 0.055) / 1.055).powf(2.4) }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of one, rounded")]
fn sixteen_bits(share: f64) -> u16 {
    (share * f64::from(u16::MAX)).round() as u16
}

/// A number in sixteen bits before and sixteen behind the point.
#[expect(clippy::cast_possible_truncation, reason = "colours are smaller than two")]
fn fixed(number: f64) -> [u8; 4] {
    ((number * 65_536.0).round() as i32).to_be_bytes()
}

fn four(number: usize) -> [u8; 4] {
    u32::try_from(number).unwrap_or(u32::MAX).to_be_bytes()
}

/// The primaries as they look under the reference white.
fn adapted() -> [[f64; 3]; 3] {
    let primaries = PRIMARIES.map(from_white);
    let white = from_white(WHITE);
    let shares = solved(&transposed(&primaries), white);
    let (from, to) = (applied(&CONES, white), applied(&CONES, REFERENCE));
    let mut adapted = [[0.0; 3]; 3];
    for ((adapted, primary), share) in adapted.iter_mut().zip(primaries).zip(shares) {
        let cones = applied(&CONES, primary.map(|part| part * share));
        let [[a, b, c], [from_a, from_b, from_c], [to_a, to_b, to_c]] = [cones, from, to];
        *adapted = solved(&CONES, [a * to_a / from_a, b * to_b / from_b, c * to_c / from_c]);
    }
    adapted
}

/// A colour of luminance 1 from its `x` and `y`.
fn from_white([x, y]: [f64; 2]) -> [f64; 3] {
    [x / y, 1.0, (1.0 - x - y) / y]
}

fn applied(matrix: &Matrix, [x, y, z]: [f64; 3]) -> [f64; 3] {
    matrix.map(|[a, b, c]| a * x + b * y + c * z)
}

fn transposed(&[[a, b, c], [d, e, f], [g, h, i]]: &Matrix) -> Matrix {
    [[a, d, g], [b, e, h], [c, f, i]]
}

/// What a matrix makes into these numbers, by Cramer's rule.
fn solved(matrix: &Matrix, [x, y, z]: [f64; 3]) -> [f64; 3] {
    let [[a, b, c], [d, e, f], [g, h, i]] = *matrix;
    let whole = determinant(matrix);
    [
        determinant(&[[x, b, c], [y, e, f], [z, h, i]]) / whole,
        determinant(&[[a, x, c], [d, y, f], [g, z, i]]) / whole,
        determinant(&[[a, b, x], [d, e, y], [g, h, z]]) / whole,
    ]
}

fn determinant(&[[a, b, c], [d, e, f], [g, h, i]]: &Matrix) -> f64 {
    a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(profile: &[u8], name: &[u8; 4]) -> [f64; 3] {
        let at = (HEADER + 4..).step_by(12).find(|at| &profile[*at..at + 4] == name).unwrap();
        let start = u32::from_be_bytes(profile[at + 4..at + 8].try_into().unwrap()) as usize;
        assert_eq!(&profile[start..start + 8], b"XYZ \0\0\0\0");
        [8, 12, 16].map(|part| {
            f64::from(i32::from_be_bytes(profile[start + part..start + part + 4].try_into().unwrap())) / 65_536.0
        })
    }

    #[test]
    fn colours_are_those_published_for_the_reference_white() {
        // The columns of the matrix from linear sRGB to XYZ under D50, as colour handbooks have it (from memory: 0.4361
        // 0.3851 0.1431, 0.2225 0.7169 0.0606, 0.0139 0.0971 0.7142), and IEC 61966-2-1's own white, D65, 0.9505 1 1.0890.
        // Tables differ by the digits to which they round both whites.
        let profile = profile();
        let published: [(&[u8; 4], [f64; 3]); 4] = [
            (b"rXYZ", [0.4361, 0.2225, 0.0139]),
            (b"gXYZ", [0.3851, 0.7169, 0.0971]),
            (b"bXYZ", [0.1431, 0.0606, 0.7142]),
            (b"wtpt", [0.9505, 1.0, 1.0890]),
        ];
        for (name, wanted) in published {
            let found = numbers(&profile, name);
            for (found, wanted) in found.into_iter().zip(wanted) {
                assert!((found - wanted).abs() < 0.0004, "{}: {found} {wanted}", String::from_utf8_lossy(name));
            }
        }
        // Full red, green and blue are white: ICC.1 gives D50 as F6D6, 10000, D32D with sixteen bits behind the point.
        let sum = [b"rXYZ", b"gXYZ", b"bXYZ"].map(|name| numbers(&profile, name));
        for (part, wanted) in [f64::from(0xF6D6), f64::from(0x10000), f64::from(0xD32D)].into_iter().enumerate() {
            let sum: f64 = sum.iter().map(|colour| colour[part]).sum();
            assert!((sum * 65_536.0 - wanted).abs() <= 2.0, "{part}: {sum}");
        }
        assert_eq!(profile[68..80], [0, 0, 0xF6, 0xD6, 0, 1, 0, 0, 0, 0, 0xD3, 0x2D]);
    }

    #[test]
    fn the_curve_is_the_published_one() {
        // IEC 61966-2-1: 12.92 below 0.04045, where both parts meet at 0.0031308; half of the signal is 21.4 % of the light.
        assert!((light(0.040_45) - 0.003_130_8).abs() < 1e-7);
        assert!((light(0.5) - 0.2140).abs() < 1e-4);
        assert_eq!((sixteen_bits(light(0.0)), sixteen_bits(light(1.0))), (0, u16::MAX));
    }

    #[test]
    fn a_reader_of_another_hand_takes_it_for_srgb() {
        let profile = profile();
        assert_eq!(profile.len(), u32::from_be_bytes(profile[..4].try_into().unwrap()) as usize);
        let read = moxcms::ColorProfile::new_from_slice(&profile).unwrap();
        assert_eq!(read.version(), moxcms::ProfileVersion::V2_1);
        let own = moxcms::ColorProfile::new_srgb();
        let layout = moxcms::Layout::Rgb;
        let between = read.create_transform_8bit(layout, &own, layout, moxcms::TransformOptions::default()).unwrap();
        let colours: Vec<u8> = (0..=255_u8).flat_map(|step| [step, 255 - step, step ^ 0x5A]).collect();
        let mut shown = vec![0; colours.len()];
        between.transform(&colours, &mut shown).unwrap();
        let far = colours.iter().zip(&shown).map(|(one, other)| one.abs_diff(*other)).max();
        assert!(far <= Some(1), "{far:?}");
    }
}
