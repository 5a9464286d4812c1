//! The voltages of a notice as large figures with their meaning.

use super::{NoticeFigure, Said};
use crate::rules::{Voltage, Voltages};
use crate::survey::value::Current;
use crate::wording::{Message, Wording};

/// Every voltage: to earth first, then between conductors. The figure is in the main language, its meaning in each; a
/// language that writes the figure otherwise says it again with the meaning: `bis 460 V zwischen Leitern`.
pub(super) fn figures(voltages: &Voltages, wording: &Wording) -> Vec<NoticeFigure> {
    let to_earth = voltages.to_earth.iter().map(|voltage| (voltage, Message::ToEarth {}));
    let between = voltages.between.iter().map(|voltage| (voltage, Message::BetweenConductors {}));
    to_earth.chain(between).map(|(voltage, meaning)| meant(voltage, meaning, wording)).collect()
}

fn meant(voltage: &Voltage, meaning: Message<'_>, wording: &Wording) -> NoticeFigure {
    let (figures, meaning) = (figure(voltage, wording), wording.say(meaning));
    let main = figures.main();
    let again = |(meaning, said): (&String, &String)| {
        if said == main { meaning.clone() } else { format!("{said} {meaning}") }
    };
    let are_alike = figures.iter().all(|said| said == main);
    let meaning = if are_alike { meaning } else { meaning.iter().zip(&figures).map(again).collect() };
    NoticeFigure { meaning, figure: main.to_owned() }
}

/// `230 V`, `600 V d.c.`, `up to 460 V`, held together by no-break spaces, in every language.
pub(super) fn figure(voltage: &Voltage, wording: &Wording) -> Said {
    let volts = voltage.value.to_string();
    let mut figure = wording.say(match voltage.current {
        Current::Ac => Message::FigureAc { volts: &volts },
        Current::Dc => Message::FigureDc { volts: &volts },
    });
    if voltage.bound {
        figure = wording.say_each(|language| Message::FigureUpTo { figure: figure.in_language(language) });
    }
    figure.iter().map(|text| text.replace(' ', "\u{A0}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::value::Volts;

    #[test]
    fn a_language_that_writes_a_figure_otherwise_says_it_again() {
        let (wording, _) = Wording::new(&["en".to_owned(), "de".to_owned()], &[]).unwrap();
        let voltage = |value, current, bound| Voltage { value: Volts::whole(value), current, bound };
        let voltages = Voltages {
            to_earth: vec![voltage(230, Current::Ac, false), voltage(384, Current::Dc, false)],
            between: vec![voltage(460, Current::Ac, true)],
        };
        let said: Vec<String> = figures(&voltages, &wording)
            .into_iter()
            .map(|figure| format!("{} | {}", figure.figure, figure.meaning.join(" | ")).replace('\u{A0}', " "))
            .collect();
        assert_eq!(
            said,
            [
                "230 V | to earth | gegen Erde",
                "384 V d.c. | to earth | 384 V DC gegen Erde",
                "up to 460 V | between conductors | bis 460 V zwischen Leitern"
            ]
        );
    }
}
