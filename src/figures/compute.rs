//! What works a figure out that is no arithmetic of named values.
//!
//! Must not know which figures there are.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Got};

/// A figure's name, and what works it out at a place.
pub(super) type Code = (&'static str, Compute);

/// Works a figure out at a place.
pub(super) type Compute = fn(&mut Calc<'_>, Place) -> Got;
