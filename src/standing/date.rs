//! A day of the calendar, as a list gives it and as it is compared.

/// A day. The order is that of time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

/// English names of the months, of which three letters are enough.
const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Years that an inspection can have: before, there was no installation; after, nobody plans.
const YEARS: std::ops::RangeInclusive<u16> = 1900..=2199;

impl Date {
    /// A day that the calendar has.
    #[must_use]
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let known = YEARS.contains(&year) && (1..=12).contains(&month) && day >= 1;
        (known && day <= days_in(year, month)).then_some(Self { year, month, day })
    }

    /// The day that a text names: `2026-05-14` (ISO 8601), `14 May 2026`, `14.5.2026`, `14/05/2026`. The year has four
    /// figures, and the day comes first where the year does not. A time behind a blank or `T` is passed over, since
    /// spreadsheets add one.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let date = text.split_once([' ', 'T']).filter(|(_, time)| time.contains(':')).map_or(text, |(date, _)| date);
        let parts: Vec<&str> = date.split([' ', '-', '/', '.', ',']).filter(|part| !part.is_empty()).collect();
        let [one, month, other] = parts.as_slice() else { return None };
        let (year, day) = if one.len() == 4 { (one, other) } else { (other, one) };
        Self::new(figures(year, 4..=4)?, month_of(month)?, u8::try_from(figures(day, 1..=2)?).ok()?)
    }

    /// Whether a text that names a day would name another with the month first: `03/04/2026`.
    #[must_use]
    pub fn is_ambiguous(text: &str) -> bool {
        let text = text.trim();
        let date = text.split_once([' ', 'T']).filter(|(_, time)| time.contains(':')).map_or(text, |(date, _)| date);
        let parts: Vec<&str> = date.split([' ', '-', '/', '.', ',']).filter(|part| !part.is_empty()).collect();
        let [day, month, _] = parts.as_slice() else { return false };
        let (Some(day), Some(month)) = (figures(day, 1..=2), figures(month, 1..=2)) else { return false };
        day <= 12 && month <= 12 && day != month
    }

    /// The first and the last day of a month or day of the form `2026-11` or `2026-11-24`.
    #[must_use]
    pub fn span(text: &str) -> Option<(Self, Self)> {
        if let Some(day) = Self::parse(text) {
            return Some((day, day));
        }
        let (year, month) = text.trim().split_once('-')?;
        let (year, month) = (figures(year, 4..=4)?, month_of(month)?);
        Some((Self::new(year, month, 1)?, Self::new(year, month, days_in(year, month))?))
    }

    /// The year.
    #[must_use]
    pub const fn year(self) -> u16 {
        self.year
    }

    /// The month, from 1.
    #[must_use]
    pub const fn month(self) -> u8 {
        self.month
    }

    /// The day, from 1.
    #[must_use]
    pub const fn day(self) -> u8 {
        self.day
    }
}

impl std::fmt::Display for Date {
    /// `2026-05-14`
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

fn figures(text: &str, length: std::ops::RangeInclusive<usize>) -> Option<u16> {
    let is_number = length.contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    is_number.then(|| text.parse().ok()).flatten()
}

/// A month by its number or by its English name, whole or cut after three letters or more.
fn month_of(text: &str) -> Option<u8> {
    if let Some(number) = figures(text, 1..=2) {
        return u8::try_from(number).ok();
    }
    let name = text.to_lowercase();
    let place = MONTHS.iter().position(|month| name.len() >= 3 && month.starts_with(&name))?;
    u8::try_from(place + 1).ok()
}

/// The days of a month (Gregorian calendar).
const fn days_in(year: u16, month: u8) -> u8 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if (year.is_multiple_of(4) && !year.is_multiple_of(100)) || year.is_multiple_of(400) => 29,
        2 => 28,
        _ => 31,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_read_in_each_usual_form() {
        let day = Date::new(2026, 5, 14);
        for text in
            ["2026-05-14", "14 May 2026", "14 may 2026", "14.5.2026", "14/05/2026", "14-May-2026", "14, May 2026"]
        {
            assert_eq!(Date::parse(text), day, "{text}");
        }
        assert_eq!(Date::parse("2026-05-14 00:00:00"), day, "a spreadsheet adds the time of day");
        assert_eq!(Date::parse("2026-05-14T00:00:00"), day);
        assert_eq!(Date::parse("1 Sept 2026"), Date::new(2026, 9, 1));
    }

    #[test]
    fn only_figures_in_a_year_that_stands_last_can_change_places() {
        for text in ["03/04/2026", "3.4.2026", "3-4-2026 00:00:00"] {
            assert!(Date::is_ambiguous(text), "{text}");
        }
        for text in ["2026-04-03", "13/04/2026", "04/04/2026", "3 April 2026", ""] {
            assert!(!Date::is_ambiguous(text), "{text}");
        }
    }

    #[test]
    fn what_is_no_day_of_the_calendar_is_none() {
        for text in
            ["05/14/2026", "14/05/26", "2026-02-29", "31 June 2026", "May 2026", "14 Ma 2026", "0 May 2026", "x", ""]
        {
            assert_eq!(Date::parse(text), None, "{text}");
        }
        assert!(Date::parse("29 February 2028").is_some() && Date::parse("29 February 2100").is_none());
    }

    #[test]
    fn a_month_of_a_job_is_all_of_its_days() {
        let days = |text| Date::span(text).map(|(from, to)| format!("{from} {to}"));
        assert_eq!(days("2028-02").as_deref(), Some("2028-02-01 2028-02-29"));
        assert_eq!(days("2026-11-24").as_deref(), Some("2026-11-24 2026-11-24"));
        assert_eq!(days(""), None);
    }
}
