//! The laws from outside: declarations, evaluation, calculation, curves.

mod calculating;
mod curves;
mod declarations;
mod evaluating;
