//! What crumb and crust are like to heat.

/// Porosity of crumb, %.
pub(super) const POROSITY: f64 = 65.0;
/// J/kg K.
pub(super) const WET_HEAT: f64 = 2_800.0;
pub(super) const DRY_HEAT: f64 = 1_700.0;
/// kg of water that can boil off a kg of crumb.
pub(super) const BOILS_OFF: f64 = 0.34;
/// J/kg.
pub(super) const LATENT: f64 = 2.26e6;
/// W/m K.
pub(super) const CRUST: f64 = 0.15;

/// Thermal diffusivity of bread crumb by its porosity, %, in m²/s.
///
/// # Source
/// J Food Eng 26(4):497–510, 1995, abstract (Zanoni et al., authors from memory).
///
/// # Example
/// ```
/// assert!((recipe::heat::crumb_diffusivity(50.0) / 3.928e-7 - 1.0).abs() < 1e-3);
/// ```
#[must_use]
pub fn crumb_diffusivity(porosity: f64) -> f64 {
    (0.01 * porosity - 15.25).exp()
}

pub(super) fn crumb_density(porosity: f64) -> f64 {
    979.0 - 9.9 * porosity
}

#[cfg(test)]
mod tests {
    use super::*;

    /// F06: 50, 70 and 80 % porosity (abstract seen).
    #[test]
    fn f06_crumb() {
        for (p, alpha, rho) in [
            (50.0, 3.928e-7, 484.0),
            (70.0, 4.798e-7, 286.0),
            (80.0, 5.302e-7, 187.0),
        ] {
            assert!((crumb_diffusivity(p) / alpha - 1.0).abs() < 1e-3);
            assert!((crumb_density(p) - rho).abs() < 0.5);
        }
    }
}
