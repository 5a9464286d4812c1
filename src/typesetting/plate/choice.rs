//! What a plate may choose between, and how much each choice is liked.

use super::content::Content;
use super::scale::Frame;
use crate::notice::Subject;

/// Where the headline stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Head {
    /// To the right of the sign.
    Beside,
    /// Under the sign on a tall plate; at the top of a plate without one.
    Below,
    /// On a plate without a sign: on one line with the statement.
    Joined,
}

/// Where something stands that belongs to something else: a place to its device, a meaning to its figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    /// To its right.
    Right,
    /// Under it.
    Under,
}

/// Head, figures and small line on the left; points, closing and code on the right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Split {
    /// The left part's share of the width.
    pub(super) share: f64,
    pub(super) cautions_right: bool,
}

/// One way to arrange a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Choice {
    pub(super) head: Head,
    pub(super) places: Beside,
    pub(super) meanings: Beside,
    /// Columns of points, 1 or 2.
    pub(super) columns: usize,
    /// Whether a wide, low plate has its parts side by side.
    pub(super) split: Option<Split>,
    /// Whether what the points serve is shown.
    pub(super) serves: bool,
    /// Whether the enclosure's name is shown.
    pub(super) name: bool,
    /// How much it is liked, from 0 to 1.
    pub(super) liking: f64,
}

/// Every arrangement that makes sense for a content and a plate, the best liked first.
pub(super) fn choices(content: &Content, frame: &Frame) -> Vec<Choice> {
    let heads: &[(Head, f64)] = match content.subject {
        // A standing notice has a plate of its own.
        Subject::Device | Subject::Standing => &[(Head::Below, 1.0), (Head::Joined, 0.8)],
        Subject::Enclosure if frame.height > frame.width * 0.95 => &[(Head::Beside, 1.0), (Head::Below, 0.94)],
        Subject::Enclosure => &[(Head::Beside, 1.0)],
    };
    let places: &[(Beside, f64)] = if content.points.iter().all(|point| point.place.is_none()) {
        &[(Beside::Right, 1.0)]
    } else {
        &[(Beside::Right, 1.0), (Beside::Under, 0.84)]
    };
    let meanings: &[(Beside, f64)] = if content.figures.is_empty() {
        &[(Beside::Under, 1.0)]
    } else {
        &[(Beside::Under, 1.0), (Beside::Right, 0.94)]
    };
    let columns: &[(usize, f64)] = if content.points.len() >= 4 { &[(1, 1.0), (2, 0.92)] } else { &[(1, 1.0)] };
    let splits = if frame.is_low() { splits(content) } else { vec![(None, 1.0)] };
    let mut choices = Vec::with_capacity(24);
    for &(head, head_liking) in heads {
        for &(places, places_liking) in places {
            for &(meanings, meanings_liking) in meanings {
                for &(columns, columns_liking) in columns {
                    for &(split, split_liking) in &splits {
                        for (serves, name, left_out) in leavings(content) {
                            let liking = head_liking * places_liking * meanings_liking * columns_liking;
                            let liking = liking * split_liking * left_out;
                            choices.push(Choice { head, places, meanings, columns, split, serves, name, liking });
                        }
                    }
                }
            }
        }
    }
    choices.sort_by(|one, other| other.liking.total_cmp(&one.liking));
    choices
}

/// Ways to divide a low plate, and to leave it whole.
fn splits(content: &Content) -> Vec<(Option<Split>, f64)> {
    let mut splits = vec![(None, 0.9)];
    let sides: &[bool] = if content.cautions.is_empty() { &[false] } else { &[false, true] };
    for (share, liking) in [(0.5, 1.0), (0.45, 0.98), (0.55, 0.98)] {
        splits.extend(sides.iter().map(|&cautions_right| (Some(Split { share, cautions_right }), liking)));
    }
    splits
}

/// What may be left away, in order: first what the points serve, then the name.
fn leavings(content: &Content) -> impl Iterator<Item = (bool, bool, f64)> + Clone {
    let serves = content.points.iter().any(|point| point.serves.is_some());
    let name = content.name.is_some();
    [(serves, name, 1.0), (false, name, 0.88), (false, false, 0.84)]
        .into_iter()
        .enumerate()
        .filter(move |(index, _)| match index {
            0 => true,
            1 => serves,
            _ => name,
        })
        .map(|(_, leaving)| leaving)
}
