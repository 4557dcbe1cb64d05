//! What the car adds to a line.
//!
//! Must not know the line.

/// What the car adds to a line.
#[derive(Debug, Clone, Copy, Default)]
pub struct Context {
    /// Cylinders of the car.
    pub cylinders: Option<u16>,
    /// Where toe is measured, metres: the line's `over` or the car's own.
    pub toe_over: Option<f64>,
    /// -1 for a quantity spelt `...-out`, +1 for `...-in`, 0 where no direction was spelt.
    pub direction: i8,
}
