//! Toe as a length over a diameter and as an angle: for one wheel the length is `diameter * sin(angle)`.
//!
//! Must not know which wheels a value is of.

/// The angle of one wheel, radians, of its length of toe over a diameter, both metres.
#[must_use]
pub fn angle(length: f64, over: f64) -> f64 {
    libm::asin((length / over).clamp(-1.0, 1.0))
}

/// The length of toe of one wheel over a diameter, metres.
#[must_use]
pub fn length(angle: f64, over: f64) -> f64 {
    over * libm::sin(angle)
}
