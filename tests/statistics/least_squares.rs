//! Least squares with several regressors, against the certified values of a published problem.

use super::near;
use stringline::statistics::least_squares::{NoFit, least_squares};
use stringline::statistics::student;

/// NIST Statistical Reference Datasets, Longley (1967): deflator, product, unemployed, armed forces, population, year; employed.
const LONGLEY: [([f64; 6], f64); 16] = [
    ([83.0, 234_289.0, 2356.0, 1590.0, 107_608.0, 1947.0], 60323.0),
    ([88.5, 259_426.0, 2325.0, 1456.0, 108_632.0, 1948.0], 61122.0),
    ([88.2, 258_054.0, 3682.0, 1616.0, 109_773.0, 1949.0], 60171.0),
    ([89.5, 284_599.0, 3351.0, 1650.0, 110_929.0, 1950.0], 61187.0),
    ([96.2, 328_975.0, 2099.0, 3099.0, 112_075.0, 1951.0], 63221.0),
    ([98.1, 346_999.0, 1932.0, 3594.0, 113_270.0, 1952.0], 63639.0),
    ([99.0, 365_385.0, 1870.0, 3547.0, 115_094.0, 1953.0], 64989.0),
    ([100.0, 363_112.0, 3578.0, 3350.0, 116_219.0, 1954.0], 63761.0),
    ([101.2, 397_469.0, 2904.0, 3048.0, 117_388.0, 1955.0], 66019.0),
    ([104.6, 419_180.0, 2822.0, 2857.0, 118_734.0, 1956.0], 67857.0),
    ([108.4, 442_769.0, 2936.0, 2798.0, 120_445.0, 1957.0], 68169.0),
    ([110.8, 444_546.0, 4681.0, 2637.0, 121_950.0, 1958.0], 66513.0),
    ([112.6, 482_704.0, 3813.0, 2552.0, 123_366.0, 1959.0], 68655.0),
    ([114.2, 502_601.0, 3931.0, 2514.0, 125_368.0, 1960.0], 69564.0),
    ([115.7, 518_173.0, 4806.0, 2572.0, 127_852.0, 1961.0], 69331.0),
    ([116.9, 554_894.0, 4007.0, 2827.0, 130_081.0, 1962.0], 70551.0),
];

/// Certified estimates and their standard deviations, of the same page.
const CERTIFIED: [(f64, f64); 7] = [
    (-3_482_258.634_595_82, 890_420.383_607_373),
    (15.061_872_271_373_3, 84.914_925_774_766_9),
    (-0.035_819_179_292_591_0, 0.033_491_007_782_243_2),
    (-2.020_229_803_816_83, 0.488_399_681_651_699),
    (-1.033_226_867_173_59, 0.214_274_163_161_675),
    (-0.051_104_105_653_580_7, 0.226_073_200_069_370),
    (1_829.151_464_613_55, 455.478_499_142_212),
];

#[test]
fn longley_as_certified() {
    let rows: Vec<Vec<f64>> =
        LONGLEY.iter().map(|(row, _)| std::iter::once(1.0).chain(*row).collect()).collect();
    let y: Vec<f64> = LONGLEY.iter().map(|(_, y)| *y).collect();
    let fit = least_squares(&rows, &y).unwrap();
    let scatter = (fit.left_over / fit.freedom as f64).sqrt();
    for (index, (value, error)) in CERTIFIED.iter().enumerate() {
        near(fit.coefficients[index] / value, 1.0, 1e-8);
        near(fit.error(index, None).unwrap() * scatter / error, 1.0, 1e-8);
    }
    assert_eq!(fit.freedom, 9);
}

#[test]
fn what_has_no_fit_says_why() {
    let rows = |list: &[[f64; 3]]| list.iter().map(|row| row.to_vec()).collect::<Vec<_>>();
    assert_eq!(least_squares(&[], &[]).unwrap_err(), NoFit::TooFew);
    let two = rows(&[[1.0, 1.0, 0.0], [1.0, 2.0, 1.0]]);
    assert_eq!(least_squares(&two, &[1.0, 2.0]).unwrap_err(), NoFit::TooFew);
    // Equal steps always upward are the trend.
    let steps = rows(&[[1.0, 1.0, 10.0], [1.0, 2.0, 12.0], [1.0, 3.0, 14.0], [1.0, 4.0, 16.0]]);
    assert_eq!(least_squares(&steps, &[1.0, 2.0, 4.0, 3.0]).unwrap_err(), NoFit::Follows(2));
    let odd = rows(&[[1.0, 1.0, f64::NAN], [1.0, 2.0, 1.0], [1.0, 3.0, 0.0]]);
    assert_eq!(least_squares(&odd, &[1.0, 2.0, 3.0]).unwrap_err(), NoFit::NotFinite);
}

/// Box, Hunter & Hunter, Statistics for Experimenters, chapter 3 (from memory; the set gives the book's t): boys' shoes, B less A.
#[test]
fn the_boys_shoes_as_published() {
    let a = [13.2, 8.2, 10.9, 14.3, 10.7, 6.6, 9.5, 10.8, 8.8, 13.3];
    let b = [14.0, 8.8, 11.2, 14.2, 11.8, 6.4, 9.8, 11.3, 9.3, 13.6];
    // A level of each boy, and the material.
    let mut rows = Vec::new();
    for boy in 0..10 {
        for material in [0.0, 1.0] {
            let mut row: Vec<f64> = (0..10).map(|one| if one == boy { 1.0 } else { 0.0 }).collect();
            row.push(material);
            rows.push(row);
        }
    }
    let y: Vec<f64> = a.iter().zip(b).flat_map(|(a, b)| [*a, b]).collect();
    let fit = least_squares(&rows, &y).unwrap();
    assert_eq!(fit.freedom, 9);
    let scatter = (fit.left_over / fit.freedom as f64).sqrt();
    let (value, error) = (fit.coefficients[10], fit.error(10, None).unwrap() * scatter);
    near(value, 0.41, 1e-9);
    near(error, 0.122_429_1, 1e-7);
    near(student::outside(value / error, 9.0).unwrap(), 0.008_538_78, 1e-8);
    let wide = student::quantile(0.95, 9.0).unwrap() * error;
    near(value - wide, 0.133_046_1, 1e-7);
    near(value + wide, 0.686_953_9, 1e-7);
}

/// Closed form: of three groups of two, four and eight the means differ by errors of sqrt(1/n + 1/m).
#[test]
fn a_difference_of_two_coefficients() {
    let mut rows = Vec::new();
    let mut y = Vec::new();
    for (group, count) in [2, 4, 8].into_iter().enumerate() {
        for one in 0..count {
            rows.push(vec![1.0, f64::from(u8::from(group == 1)), f64::from(u8::from(group == 2))]);
            y.push(group as f64 * 3.0 + f64::from(one % 2));
        }
    }
    let fit = least_squares(&rows, &y).unwrap();
    near(fit.error(1, None).unwrap(), (1.0_f64 / 2.0 + 1.0 / 4.0).sqrt(), 1e-12);
    near(fit.error(2, Some(1)).unwrap(), (1.0_f64 / 4.0 + 1.0 / 8.0).sqrt(), 1e-12);
    near(fit.error(1, Some(2)).unwrap(), (1.0_f64 / 4.0 + 1.0 / 8.0).sqrt(), 1e-12);
    assert_eq!(fit.error(3, None), None);
}
