//! The voltages of a notice as large figures with their meaning.

use super::{NoticeFigure, Said};
use crate::rules::{Voltage, Voltages};
use crate::survey::value::Current;
use crate::wording::{Message, Wording};

/// Every voltage: to earth first, then between conductors. The figure is in the main language, its meaning in each.
pub(super) fn figures(voltages: &Voltages, wording: &Wording) -> Vec<NoticeFigure> {
    let meant = |voltages: &[Voltage], meaning: Message<'static>| {
        let figures = voltages.iter().map(|voltage| NoticeFigure {
            figure: figure(voltage, wording).into_iter().next().unwrap_or_default(),
            meaning: wording.say(meaning),
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
