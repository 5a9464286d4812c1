//! What a document says about itself.

/// Title, language and date of a document. Nothing here is taken from the clock.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DocumentInfo {
    /// Its title, shown in the window's title bar.
    pub title: String,
    /// Who prepared it; empty if not said.
    pub author: String,
    /// What it is about; empty if not said.
    pub subject: String,
    /// Main language as a BCP 47 tag, `en-GB`; empty if not known.
    pub language: String,
    /// The date of the job; without one the document carries none.
    pub created: Option<Moment>,
}

/// A second of universal time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment {
    days: i64,
    second: i64,
}

const SECONDS_A_DAY: i64 = 86_400;

impl Moment {
    /// Midnight, universal time, of a day of the Gregorian calendar; `None` if there is no such day.
    #[must_use]
    pub fn day(year: i64, month: i64, day: i64) -> Option<Self> {
        let moment = Self { days: days_from_civil(year, month, day), second: 0 };
        let real = (1..=9999).contains(&year) && (1..=12).contains(&month) && moment.civil() == (year, month, day);
        real.then_some(moment)
    }

    /// So many seconds after the start of 1970, as `SOURCE_DATE_EPOCH` counts them; `None` beyond the year 9999.
    #[must_use]
    pub fn since_1970(seconds: i64) -> Option<Self> {
        let moment = Self { days: seconds.div_euclid(SECONDS_A_DAY), second: seconds.rem_euclid(SECONDS_A_DAY) };
        (1..=9999).contains(&moment.civil().0).then_some(moment)
    }

    /// Year, month and day.
    #[must_use]
    pub fn date(self) -> (u16, u8, u8) {
        let (year, month, day) = self.civil();
        (u16::try_from(year).unwrap_or_default(), u8::try_from(month).unwrap_or(1), u8::try_from(day).unwrap_or(1))
    }

    /// As the information dictionary wants it: `D:20260314090000Z`.
    pub(super) fn pdf(self) -> String {
        let (year, month, day) = self.civil();
        let (hour, minute, second) = self.clock();
        format!("D:{year:04}{month:02}{day:02}{hour:02}{minute:02}{second:02}Z")
    }

    /// As ISO 8601 has it: `2026-03-14T09:00:00Z`.
    pub(super) fn iso(self) -> String {
        let (year, month, day) = self.civil();
        let (hour, minute, second) = self.clock();
        format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}Z")
    }

    fn clock(self) -> (i64, i64, i64) {
        (self.second / 3_600, self.second / 60 % 60, self.second % 60)
    }

    /// Year, month and day, counting the year from March so that the leap day comes last.
    fn civil(self) -> (i64, i64, i64) {
        let days = self.days + 719_468;
        let era = days.div_euclid(146_097);
        let day_of_era = days.rem_euclid(146_097);
        let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
        let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let month_from_march = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
        let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
        (year_of_era + era * 400 + i64::from(month <= 2), month, day)
    }
}

/// Days from the start of 1970 to a day of the Gregorian calendar.
fn days_from_civil(year: i64, month: i64, day: i64) -> i64 {
    let year = if month <= 2 { year - 1 } else { year };
    let year_of_era = year.rem_euclid(400);
    let month_from_march = if month > 2 { month - 3 } else { month + 9 };
    let day_of_era =
        year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + (153 * month_from_march + 2) / 5 + day - 1;
    year.div_euclid(400) * 146_097 + day_of_era - 719_468
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seconds_become_the_dates_that_posix_gives_them() {
        // POSIX.1-2017 4.16, seconds since the Epoch: 1 000 000 000 is 2001-09-09T01:46:40Z, 2^31 - 1 is 2038-01-19T03:14:07Z.
        assert_eq!(Moment::since_1970(0).unwrap().iso(), "1970-01-01T00:00:00Z");
        assert_eq!(Moment::since_1970(1_000_000_000).unwrap().iso(), "2001-09-09T01:46:40Z");
        assert_eq!(Moment::since_1970(2_147_483_647).unwrap().pdf(), "D:20380119031407Z");
        assert_eq!(Moment::since_1970(i64::from(i32::MAX) * 1_000), None);
    }

    #[test]
    fn only_days_of_the_calendar_are_days() {
        assert_eq!(Moment::day(2024, 2, 29).unwrap().iso(), "2024-02-29T00:00:00Z");
        assert_eq!(Moment::day(2026, 12, 31).unwrap().pdf(), "D:20261231000000Z");
        for (year, month, day) in [(2026, 2, 29), (1900, 2, 29), (2026, 13, 1), (2026, 4, 31), (2026, 1, 0), (0, 1, 1)]
        {
            assert_eq!(Moment::day(year, month, day), None, "{year}-{month}-{day}");
        }
    }
}
