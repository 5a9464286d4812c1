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

    /// The day that lies so many days after 1970-01-01; `None` outside the years that are known.
    #[must_use]
    pub fn of_unix_day(days: i64) -> Option<Self> {
        // Days of the civil calendar, counted in eras of 400 years that begin on 1 March (Gregorian calendar).
        let days = days.checked_add(719_468)?;
        let (era, of_era) = (days.div_euclid(146_097), days.rem_euclid(146_097));
        let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
        let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let month = (5 * of_year + 2) / 153;
        let day = of_year - (153 * month + 2) / 5 + 1;
        let (month, later) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
        let year = u16::try_from(era * 400 + year_of_era + later).ok()?;
        Self::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?)
    }

    /// How many days it lies after 1970-01-01.
    #[must_use]
    pub fn unix_day(self) -> i64 {
        let (year, month, day) = (i64::from(self.year), i64::from(self.month), i64::from(self.day));
        let (year, month) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
        let (era, year_of_era) = (year.div_euclid(400), year.rem_euclid(400));
        let of_year = (153 * month + 2) / 5 + day - 1;
        era * 146_097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + of_year - 719_468
    }

    /// The same day so many months later; the last of the month where it has no such day. `None` after the years that are
    /// known.
    #[must_use]
    pub fn months_later(self, months: u16) -> Option<Self> {
        let months = u32::from(self.year) * 12 + u32::from(self.month) - 1 + u32::from(months);
        let (year, month) = (u16::try_from(months / 12).ok()?, u8::try_from(months % 12).ok()? + 1);
        Self::new(year, month, self.day.min(days_in(year, month)))
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
    fn days_are_counted_as_the_calendar_has_them() {
        // 2000-03-01 is day 11017 and 2038-01-19 day 24855 since 1970-01-01 (POSIX seconds of 32 bits end on the latter).
        for (days, text) in [(0, "1970-01-01"), (11_017, "2000-03-01"), (24_855, "2038-01-19"), (-1, "1969-12-31")] {
            let date = Date::parse(text).unwrap();
            assert_eq!((Date::of_unix_day(days), date.unix_day()), (Some(date), days));
        }
        for day in -25_000..80_000 {
            let date = Date::of_unix_day(day).unwrap();
            assert_eq!(date.unix_day(), day, "{date}");
        }
        assert_eq!(Date::of_unix_day(i64::MAX), None);
    }

    #[test]
    fn months_later_ends_with_the_month() {
        let later = |text: &str, months| Date::parse(text).unwrap().months_later(months).map(|date| date.to_string());
        assert_eq!(later("2026-11-28", 12).as_deref(), Some("2027-11-28"));
        assert_eq!(later("2027-08-31", 6).as_deref(), Some("2028-02-29"));
        assert_eq!(later("2026-12-31", 1).as_deref(), Some("2027-01-31"));
        assert_eq!(later("2199-12-31", 1), None);
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
