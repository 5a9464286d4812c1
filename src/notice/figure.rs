//! The voltages of a notice as large figures with their meaning.

use super::{NoticeFigure, Said};
use crate::rules::{Voltage, Voltages};
use crate::survey::value::Current;
use crate::wording::{Message, Wording};

/// Every voltage: to earth first, then between conductors. The figure is in the main language, its meaning in each; a
/// language that writes the figure otherwise says it again with the meaning: `bis 460 V zwischen Leitern`.
pub(super) fn figures(voltages: &Voltages, wording: &Wording) -> Vec<NoticeFigure> {
    let meant = |voltages: &[Voltage], meaning: Message<'static>| {
        let figures = voltages.iter().map(|voltage| {
            let said = figure(voltage, wording);
            let main = said.first().cloned().unwrap_or_default();
            let meaning = wording
                .say(meaning)
                .into_iter()
                .zip(said)
                .map(|(meaning, said)| if said == main { meaning } else { format!("{said} {meaning}") });
            NoticeFigure { meaning: meaning.collect(), figure: main }
        });
        figures.collect::<Vec<_>>()
    };
    let mut figures = meant(&voltages.to_earth, Message::ToEarth {});
    figures.extend(meant(&voltages.between, Message::BetweenConductors {}));
    figures
}

/// `230 V`, `600 V d.c.`, `up to 460 V`, held together by no-break spaces, in every language.
pub(super) fn figure(voltage: &Voltage, wording: &Wording) -> Said {
    let volts = voltage.value.to_string();
    let mut figure = wording.say(match voltage.current {
        Current::Ac => Message::FigureAc { volts: &volts },
        Current::Dc => Message::FigureDc { volts: &volts },
    });
    if voltage.bound {
        let below = |language| Message::FigureUpTo { figure: figure.get(language).map_or("", String::as_str) };
        figure = wording.say_each(below);
    }
    figure.into_iter().map(|text| text.replace(' ', "\u{A0}")).collect()
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
