//! Why a law gives no answer, in words for the person who asked.

/// Why a law gave no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum LawError {
    /// Too many or too few inputs.
    Count {
        /// The law.
        law: &'static str,
        /// How many it takes.
        takes: usize,
        /// How many were given.
        given: usize,
    },
    /// A list where one number is meant, or the other way about.
    Form {
        /// The input.
        input: &'static str,
        /// Whether it is a list.
        takes_list: bool,
    },
    /// A list without numbers.
    EmptyList {
        /// The input.
        input: &'static str,
    },
    /// A number that is none: infinite or undefined.
    NotFinite {
        /// The input.
        input: &'static str,
    },
    /// A number below zero where nothing below zero exists.
    BelowZero {
        /// The input.
        input: &'static str,
        /// The SI number.
        value: f64,
    },
    /// No such choice.
    NoSuchChoice {
        /// The input.
        input: &'static str,
        /// The choices there are.
        choices: &'static [&'static str],
    },
    /// The inputs contradict one another, or divide by nothing.
    NoAnswer {
        /// The law.
        law: &'static str,
        /// Its formula.
        formula: &'static str,
    },
}

impl std::fmt::Display for LawError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            LawError::Count { law, takes, given } => {
                write!(f, "{law} takes {takes} values, {given} were given")
            }
            LawError::Form { input, takes_list: true } => {
                write!(f, "{input} is a list: write its values with commas between")
            }
            LawError::Form { input, takes_list: false } => {
                write!(f, "{input} is one value, not a list")
            }
            LawError::EmptyList { input } => write!(f, "{input} needs at least one value"),
            LawError::NotFinite { input } => write!(f, "{input} is not a number"),
            LawError::BelowZero { input, value } => {
                write!(f, "{input} cannot be below zero, and is {value}")
            }
            LawError::NoSuchChoice { input, choices } => {
                write!(f, "{input} is one of: {}", choices.join(", "))
            }
            LawError::NoAnswer { law, formula } => write!(
                f,
                "{law} has no answer for these values: look for a zero that divides, a pair in the \
                 wrong order, or lists of different length ({formula})"
            ),
        }
    }
}

impl std::error::Error for LawError {}
