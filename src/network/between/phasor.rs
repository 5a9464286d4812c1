//! How far two phasors stand apart.

use std::f64::consts::FRAC_PI_6;

use crate::survey::value::Volts;

/// Twelfths of a turn between two lines of a star.
const BETWEEN_LINES: u8 = 4;

/// How far the ends of two phasors are apart, each a length and an angle in twelfths of a turn; rounded up to a whole
/// volt, but for two lines of one system, which stand at its nominal voltage between lines where that is given.
pub(super) fn apart(
    (one, angle): (Volts, u8),
    (other, other_angle): (Volts, u8),
    nominal_between_lines: Option<Volts>,
) -> Volts {
    let turned = (12 + angle % 12 - other_angle % 12) % 12;
    if one == other && turned == 0 {
        return Volts::milli(0);
    }
    if let Some(nominal) = nominal_between_lines.filter(|_| turned == BETWEEN_LINES || turned == 12 - BETWEEN_LINES) {
        return nominal;
    }
    let (one, other) = (one.to_volts(), other.to_volts());
    let cosine = (f64::from(turned) * FRAC_PI_6).cos();
    whole_volts_above((one * one + other * other - 2.0 * one * other * cosine).max(0.0).sqrt())
}

/// The next whole volt; a millionth of one above it is the arithmetic of the machine.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float cast saturates, and a length is not negative"
)]
fn whole_volts_above(volts: f64) -> Volts {
    Volts::milli(((volts - 1e-6).ceil() as u32).saturating_mul(1_000))
}

#[cfg(test)]
mod tests {
    use super::*;

    const STAR: Volts = Volts::whole(230);

    #[test]
    fn chords_of_a_circle() {
        // Geometry: the chord of 30 degrees is 2 sin 15, of 60 degrees 1, of 90 degrees root 2, of a half turn 2.
        let chord = |hours| apart((STAR, hours), (STAR, 0), None);
        assert_eq!([1, 2, 3, 6].map(chord), [120, 230, 326, 460].map(Volts::whole));
        assert_eq!(chord(11), chord(1));
        assert_eq!(chord(12), Volts::milli(0));
    }

    #[test]
    fn lines_of_one_system_stand_at_the_nominal_value() {
        let nominal = Some(Volts::whole(400));
        assert_eq!(apart((STAR, 4), (STAR, 8), nominal), Volts::whole(400));
        assert_eq!(apart((STAR, 4), (STAR, 9), nominal), Volts::whole(445));
    }
}
