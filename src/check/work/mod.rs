//! Checks on torque and work.

crate::check::family! {
    cylinder_apart,
    fluid_against_build,
    lash_out_of_spec,
    leakdown_outlier,
    torque_not_rechecked,
}
