//! Coverage factors and probabilities.

/// Degrees of freedom above which Student's t is the normal distribution to five digits.
const NORMAL_FROM: f64 = 1e5;
/// Two-sided 95 % point of the normal distribution.
const NORMAL_95: f64 = 1.959_963_984_540_054;

/// Returns the two-sided 95 % coverage factor for effective degrees of freedom, truncated to a whole number as
/// JCGM 100 G.6.4 allows, never below 1.
///
/// ```
/// let k = domain::evidence::coverage_95(4.9);
/// assert!((k - 2.7764).abs() < 5e-5);
/// ```
#[must_use]
pub fn coverage_95(freedom: f64) -> f64 {
    if freedom.is_nan() {
        return f64::NAN;
    }
    if freedom >= NORMAL_FROM {
        return NORMAL_95;
    }
    let whole = libm::floor(freedom).max(1.0);
    if whole >= SERIES_FROM { near_normal_95(whole) } else { quantile_95(whole) }
}

/// Degrees of freedom from which the expansion about the normal distribution is good to ten digits.
const SERIES_FROM: f64 = 100.0;

/// Returns the same point by its expansion in one over the degrees of freedom (Abramowitz and Stegun 26.7.5; from
/// memory, checked against the finite series below). The finite series takes as many steps as there are degrees of
/// freedom: thousands, where one small part of a budget comes from repeats.
fn near_normal_95(freedom: f64) -> f64 {
    let z = NORMAL_95;
    let square = z * z;
    let first = z * (square + 1.0) / 4.0;
    let second = z * ((5.0 * square + 16.0) * square + 3.0) / 96.0;
    let third = z * (((3.0 * square + 19.0) * square + 17.0) * square - 15.0) / 384.0;
    let fourth =
        z * ((((79.0 * square + 776.0) * square + 1482.0) * square - 1920.0) * square - 945.0) / 92160.0;
    z + (first + (second + (third + fourth / freedom) / freedom) / freedom) / freedom
}

/// Returns the point that a t-distributed number exceeds in size once in twenty times.
fn quantile_95(freedom: f64) -> f64 {
    // Halving: forty steps give twelve digits whatever the tail looks like, and no step can run away.
    let (mut low, mut high) = (NORMAL_95, 13.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if beyond(middle, freedom) > 0.05 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Returns how often a t-distributed number exceeds `t` in size, for whole degrees of freedom: the finite
/// trigonometric series (Abramowitz and Stegun 26.7.3 and 26.7.4; from memory, checked against a table).
fn beyond(t: f64, freedom: f64) -> f64 {
    let angle = libm::atan(t / libm::sqrt(freedom));
    let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
    let odd = libm::fmod(freedom, 2.0) > 0.5;
    let mut term = if odd { cosine } else { 1.0 };
    let mut sum = if odd && freedom < 1.5 { 0.0 } else { term };
    let mut power = if odd { 3.0 } else { 2.0 };
    while power < freedom - 0.5 {
        term *= cosine * cosine * (power - 1.0) / power;
        sum += term;
        power += 2.0;
    }
    let within = if odd { (angle + sine * sum) * core::f64::consts::FRAC_2_PI } else { sine * sum };
    1.0 - within
}

/// Returns how often chance alone takes a t-distributed number beyond `t` in size, for effective degrees of
/// freedom truncated as [`coverage_95`] does.
pub(crate) fn beyond_by_chance(t: f64, freedom: f64) -> f64 {
    match freedom {
        normal if normal >= NORMAL_FROM => libm::erfc(t.abs() / core::f64::consts::SQRT_2),
        few => beyond(t.abs(), libm::floor(few).max(1.0)),
    }
}

/// Returns how often the standard normal distribution stays below `z`.
pub(super) fn normal_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / core::f64::consts::SQRT_2)
}

/// Returns the standard normal number that is about as rare as a t-distributed one (Wallace, Ann. Math. Stat. 30, 1959;
/// from memory, checked against the series above).
pub(super) fn normal_score(t: f64, freedom: f64) -> f64 {
    if freedom >= NORMAL_FROM {
        return t;
    }
    let factor = (8.0 * freedom + 1.0) / (8.0 * freedom + 3.0);
    libm::copysign(factor * libm::sqrt(freedom * libm::log1p(t * t / freedom)), t)
}

/// Returns how often a chi-square of whole degrees of freedom exceeds `x` by chance.
pub(super) fn chi_square_beyond(x: f64, freedom: usize) -> f64 {
    let half = 0.5 * x.max(0.0);
    let (mut sum, mut order) = match freedom {
        0 => return 1.0,
        odd if odd % 2 == 1 => (libm::erfc(libm::sqrt(half)), 0.5),
        _ => (libm::exp(-half), 1.0),
    };
    let mut steps = freedom.saturating_sub(1) / 2;
    while steps > 0 {
        sum += libm::exp(order * libm::log(half) - half - libm::lgamma(order + 1.0));
        order += 1.0;
        steps -= 1;
    }
    sum.clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// Critical values of chi-square (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, from memory): the table
    /// has three decimals.
    #[rstest]
    #[case::one(1, 3.841, 0.05)]
    #[case::two(2, 5.991, 0.05)]
    #[case::three(3, 7.815, 0.05)]
    #[case::four(4, 9.488, 0.05)]
    #[case::five(5, 11.070, 0.05)]
    #[case::six(6, 12.592, 0.05)]
    #[case::seven(7, 14.067, 0.05)]
    #[case::eight(8, 15.507, 0.05)]
    #[case::ten(10, 18.307, 0.05)]
    #[case::three_rarely(3, 16.266, 0.001)]
    #[case::nine_rarely(9, 27.877, 0.001)]
    fn chi_square_meets_its_table(#[case] freedom: usize, #[case] x: f64, #[case] beyond: f64) {
        let found = chi_square_beyond(x, freedom);
        assert!((found - beyond).abs() < 1e-3 * beyond, "{found} against {beyond}");
    }

    #[test]
    fn the_expansion_meets_the_finite_series() {
        for (freedom, digits) in
            [(30.0, 1e-6), (31.0, 1e-6), (100.0, 1e-10), (101.0, 1e-10), (20_001.0, 1e-10)]
        {
            let (near, exact) = (near_normal_95(freedom), quantile_95(freedom));
            assert!((near - exact).abs() < digits, "{freedom}: {near} against {exact}");
        }
    }

    #[test]
    fn no_number_of_freedoms_has_no_factor() {
        assert!(coverage_95(f64::NAN).is_nan());
    }

    /// Two-sided 1 % points of Student's t (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, from memory), which
    /// has three decimals; what is not whole is truncated.
    #[rstest]
    #[case::one(1.0, 63.657)]
    #[case::less_than_one(0.4, 63.657)]
    #[case::two(2.0, 9.925)]
    #[case::three(3.0, 5.841)]
    #[case::four(4.9, 4.604)]
    #[case::five(5.0, 4.032)]
    #[case::ten(10.0, 3.169)]
    #[case::thirty(30.0, 2.750)]
    #[case::endless(f64::INFINITY, 2.5758)]
    fn chance_goes_beyond_its_point_once_in_a_hundred(#[case] freedom: f64, #[case] point: f64) {
        for t in [point, -point] {
            let found = beyond_by_chance(t, freedom);
            assert!((found - 0.01).abs() < 1e-5, "{found}");
        }
    }

    /// Two-sided 5 % points of Student's t (same table) beside that of the normal distribution, 1.960, and 1 % points beside
    /// 2.576: Wallace's number comes within a hundredth of it or so from three degrees of freedom on.
    #[rstest]
    #[case::three(3.0, 3.182, 1.960)]
    #[case::five(5.0, 2.571, 1.960)]
    #[case::five_rarer(5.0, 4.032, 2.576)]
    #[case::ten(10.0, 2.228, 1.960)]
    #[case::endless(f64::INFINITY, 1.960, 1.960)]
    fn a_t_has_its_normal_number(#[case] freedom: f64, #[case] t: f64, #[case] normal: f64) {
        assert!((normal_score(t, freedom) - normal).abs() < 0.012, "{}", normal_score(t, freedom));
        assert!((normal_score(-t, freedom) + normal).abs() < 0.012);
    }

    #[test]
    fn nothing_apart_is_no_surprise() {
        for freedom in 0..5 {
            assert!((chi_square_beyond(0.0, freedom) - 1.0).abs() < 1e-12, "{freedom}");
            assert!((chi_square_beyond(-1.0, freedom) - 1.0).abs() < 1e-12, "{freedom}");
        }
    }
}
