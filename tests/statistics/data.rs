//! Published sets of lives. Each: failed, then not failed.

use super::lives;
use stringline::statistics::Observation;

/// NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3: twenty units tested to 500 h.
pub fn nist_8413() -> Vec<Observation> {
    lives(&[54.0, 187.0, 216.0, 240.0, 244.0, 335.0, 361.0, 373.0, 375.0, 386.0], &[500.0; 10])
}

/// Vehicle shock absorbers, km, both ways of failing together: Meeker & Escobar, *Statistical Methods for Reliability Data*
/// (1998), table C.2; also the R packages `SPREDA` and `weibulltools`.
pub fn shock_absorbers() -> Vec<Observation> {
    lives(
        &[6700.0, 9120.0, 12200.0, 13150.0, 14300.0, 17520.0, 20100.0, 20900.0, 22700.0, 26510.0, 27490.0],
        &[
            6950.0, 7820.0, 8790.0, 9660.0, 9820.0, 11310.0, 11690.0, 11850.0, 11880.0, 12140.0, 12870.0,
            13330.0, 13470.0, 14040.0, 17540.0, 17890.0, 18450.0, 18960.0, 18980.0, 19410.0, 20100.0,
            20150.0, 20320.0, 23490.0, 27410.0, 27890.0, 28100.0,
        ],
    )
}

/// Ten fan belts of cars, thousands of miles: Conover, *Practical Nonparametric Statistics*, as in the documentation of
/// `scipy.stats.ecdf`.
pub fn fan_belts() -> Vec<Observation> {
    lives(&[77.0, 47.0, 81.0, 56.0, 80.0], &[62.0, 60.0, 43.0, 71.0, 37.0])
}

/// Weeks in remission with 6-MP: Freireich et al., Blood 21 (1963) 699; `lifelines.datasets.load_leukemia`, Rx 0.
pub fn six_mp() -> Vec<Observation> {
    lives(
        &[6.0, 6.0, 6.0, 7.0, 10.0, 13.0, 16.0, 22.0, 23.0],
        &[6.0, 9.0, 10.0, 11.0, 17.0, 19.0, 20.0, 25.0, 32.0, 32.0, 34.0, 35.0],
    )
}

/// The same trial's placebo: Rx 1.
pub fn placebo() -> Vec<Observation> {
    lives(
        &[
            1.0, 1.0, 2.0, 2.0, 3.0, 4.0, 4.0, 5.0, 5.0, 8.0, 8.0, 8.0, 8.0, 11.0, 11.0, 12.0, 12.0, 15.0,
            17.0, 22.0, 23.0,
        ],
        &[],
    )
}

/// Ball bearings, millions of turns: Lieblein & Zelen, J. Res. NBS 57 (1956) 273, as in Lawless, *Statistical Models and
/// Methods for Lifetime Data*.
pub fn ball_bearings() -> Vec<Observation> {
    lives(
        &[
            17.88, 28.92, 33.00, 41.52, 42.12, 45.60, 48.48, 51.84, 51.96, 54.12, 55.56, 67.80, 68.64, 68.64,
            68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.40,
        ],
        &[],
    )
}

/// Six run to failure, h: a complete sample used in reliability courses (values from memory).
pub fn six_complete() -> Vec<Observation> {
    lives(&[16.0, 34.0, 53.0, 75.0, 93.0, 120.0], &[])
}

/// Twenty lives of scipy's own test `test_weibull_censored1`.
pub fn scipy_twenty() -> Vec<Observation> {
    lives(
        &[3.0, 5.0, 8.0, 15.0, 22.0, 23.0, 29.0, 32.0, 35.0, 40.0, 26.0, 28.0, 21.0],
        &[6.0, 10.0, 11.0, 20.0, 27.0, 33.0, 24.0],
    )
}
