//! The day whose law is asked about.

use jiff::civil::Date;
use redtag_schema::review::DateSource;

/// A day of the calendar, written `YYYY-MM-DD`. For the command line.
pub fn parse(text: &str) -> Result<String, String> {
    let written = text.len() == 10
        && text.bytes().enumerate().all(|(at, byte)| if at == 4 || at == 7 { byte == b'-' } else { byte.is_ascii_digit() });
    let day: Option<Date> = text.parse().ok().filter(|_| written);
    day.map(|day| day.to_string()).ok_or_else(|| "write an existing day as YYYY-MM-DD, such as 2025-03-14".to_owned())
}

/// The day asked for, else the project's, else today.
pub fn chosen(asked: Option<&str>, of_project: Option<&str>) -> (String, DateSource) {
    if let Some(day) = asked {
        return (day.to_owned(), DateSource::Asked);
    }
    match of_project {
        Some(day) => (day.to_owned(), DateSource::ApplicationDate),
        None => (jiff::ZonedDateTime::now().date().to_string(), DateSource::Today),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_days_that_exist_are_taken() {
        assert_eq!(parse("2024-02-29").as_deref(), Ok("2024-02-29"));
        for wrong in ["2025-02-29", "2025-3-14", "14.03.2025", "tomorrow", "2025-03-14T00:00", ""] {
            assert!(parse(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn the_day_says_where_it_comes_from() {
        assert_eq!(chosen(Some("2025-01-01"), Some("2024-01-01")), ("2025-01-01".into(), DateSource::Asked));
        assert_eq!(chosen(None, Some("2024-01-01")), ("2024-01-01".into(), DateSource::ApplicationDate));
        assert_eq!(chosen(None, None).1, DateSource::Today);
    }
}
