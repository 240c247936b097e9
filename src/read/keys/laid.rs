//! The keys of the floor as it was laid: the blanks of the crew sheet.

use jiff::civil::DateTime;

use crate::base::names::Key;
use crate::base::quantity::{Area, Humidity, Mass, Temperature, Thickness, Volume};
use crate::read::keys::spec::*;
use crate::read::keys::table::*;

keys! {
    laid = listed("laid", "A coat as it was laid, in the order of work, from the crew sheet.") => {
        COAT: Key = need("coat", "The coat, by its key in the floor system.").like("top");
        SPACE: String =
            may("space", "The name of the space, where the job has several.").like("Patio");
        START: DateTime =
            need("start", "When the first of it was on the floor.").like("2026-05-26T09:30:00");
        END: DateTime = may("end", "When the last of it was on the floor.").like("2026-05-26T11:00:00");
        AIR: Temperature = may("air", "The temperature of the air.").like("70 F");
        HUMIDITY: Humidity =
            may("humidity", "The relative humidity of the air.").above_zero()
                .advice("air is never wholly dry; check the instrument")
                .like("52 %");
        SLAB: Temperature = may("slab", "The temperature of the surface that it went on.").like("66 F");
        AREA: Area =
            may("area", "The area that it covered; without it, the whole floor or space.").above_zero()
                .advice("write the area that was covered, or leave it out for the whole floor")
                .like("430 sq ft");
        AGAIN: bool =
            may("again", "It went over the same floor once more; without it a second record is of another part.")
                .like("true");
        USED: Volume =
            may("used", "How much mixed liquid went on the floor.").above_zero()
                .advice("write what went on the floor, or leave it out where nobody wrote it down")
                .like("2.75 gal");
        WEIGHT: Mass =
            may("weight", "How much flake or grit was thrown or stirred in.").above_zero()
                .advice("write what was thrown, or leave it out where nobody wrote it down")
                .like("80 lb");
        BATCHES: Vec<String> =
            list("batches", "The batch numbers on the pails and boxes that were opened.")
                .like(r#"["A-1187", "B-2031"]"#);
        FILMS: Vec<Thickness> =
            list("films", "Readings of the wet film, each the last notch of the gauge that was wet (ASTM D4414).")
                .above_zero().advice("write the last wet notch, or leave out a place where none was wet")
                .like(r#"["9 mil", "10 mil"]"#);
        GAUGE_STEP: Thickness =
            may("gauge-step", "The step between two notches of the gauge; without it, those of the example in ASTM D4414.")
                .above_zero()
                .advice("write the step between two notches, or leave it out")
                .like("1 mil");
        WHO: String = may("who", "Who laid it, for you alone.").like("R. T.");
        NOTE: String = may("note", "A note of the crew, for you alone.").like("Warm near the door");
    }
}
