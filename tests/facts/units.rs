//! Units against NIST SP 811, appendix B (the exact definitions of foot, pound, US gallon, inch of
//! film), and what follows from them by hand.

use super::near_share;
use slableaf::base::quantity::*;

/// NIST SP 811, appendix B.8, to the digits printed there.
const PRINTED: f64 = 1e-6;

#[test]
fn lengths_areas_and_volumes_are_those_of_nist_sp_811() {
    near_share(Length::feet(1.0).as_meters(), 0.3048, PRINTED);
    near_share(Length::inches(1.0).as_millimeters(), 25.4, PRINTED);
    near_share(Area::square_feet(1.0).as_square_meters(), 0.092_903_04, PRINTED);
    near_share(Volume::gallons(1.0).as_liters(), 3.785_412, PRINTED);
    near_share(Room::cubic_feet(1.0).as_cubic_meters(), 0.028_316_85, PRINTED);
    near_share(Thickness::mils(1.0).as_micrometers(), 25.4, PRINTED);
}

#[test]
fn masses_strengths_and_flows_are_those_of_nist_sp_811() {
    near_share(Mass::pounds(1.0).as_grams(), 453.592_4, PRINTED);
    near_share(Strength::psi(1.0).as_megapascals(), 0.006_894_757, PRINTED);
    near_share(
        Airflow::cubic_feet_per_minute(1.0).as_cubic_meters_per_hour(),
        4.719_474e-4 * 3600.0,
        PRINTED,
    );
    near_share(
        ArealMass::pounds_per_square_foot(1.0).as_kilograms_per_square_meter(),
        4.882_428,
        PRINTED,
    );
    // 1 lb/gal (US) = 119.8264 kg/m3.
    near_share(Content::pounds_per_gallon(1.0).as_grams_per_liter(), 119.826_4, PRINTED);
}

#[test]
fn temperatures_meet_at_the_fixed_points_of_both_scales() {
    near_share(Temperature::fahrenheit(77.0).as_celsius(), 25.0, PRINTED);
    near_share(Temperature::celsius(100.0).as_fahrenheit(), 212.0, PRINTED);
    near_share(Temperature::fahrenheit(-40.0).as_celsius(), -40.0, PRINTED);
    // A difference of 3 C is 5.4 F.
    near_share(Degrees::kelvin(3.0).as_fahrenheit(), 5.4, PRINTED);
}
