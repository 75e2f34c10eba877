//! Finish: anodised colour along the height of a titanium piece.
//!
//! In reading order: [`interference`] (how a film on metal reflects), [`colour`]
//! (what the eye makes of it), [`film`] (how thick a voltage makes the film), [`supply`]
//! (what bath and supply can do), [`bath`] (all of these), [`programme`] (voltage against
//! height), [`lift`] (a piece lifted out of the bath by
//! it), [`charge`] (what that takes of the supply), [`mod@drain`] (whether the bath runs
//! off), [`mod@difference`] (how far apart two colours are), [`wished`] (the films, with
//! their voltages, that come near a colour). Design estimates: a trial strip in the real
//! bath decides.

pub mod bath;
pub mod charge;
pub mod colour;
pub mod difference;
pub mod drain;
pub mod film;
pub mod interference;
pub mod lift;
pub mod programme;
pub mod supply;
pub mod wished;

/// What is said beside every finish: what can hurt, then what can disappoint.
pub const CAUTIONS: [&str; 3] = [BATH, HANDLING, SCREEN];

const BATH: &str = "A design estimate: bath, alloy, surface and light change the colour, so run a trial strip. Anodising is live metal in a conducting bath: direct voltages above 60 V can kill, and lower ones are dangerous to wet hands; use an isolated supply with a lid switch, lift by an insulated fixture, never reach in while it is on. Acid baths and etchants burn: eye protection, gloves, ventilation; hydrofluoric etchants only under licensed practice. Go by the data sheets and local codes.";

/// What is done in every shop.
const HANDLING: &str = "Rinse in clean water before and after each bath, and let the piece dry before it is handled. Never mix baths, cleaners or etchants; add acid to water, never water to acid (common practice). Wear gloves, goggles and an apron made for the acid, and ventilate: the bath gives off hydrogen. Have the bath, its supply and its waste approved under local codes.";

/// Said of every colour.
const SCREEN: &str = "Colours on a screen are estimates: a screen, the light and the texture of the metal each change them. Judge by a trial strip in your own bath.";

/// Where the interference model comes from, and what it leaves out.
pub const MODEL: &str = "Reflectance of air, oxide and titanium by Airy's formula with Fresnel's coefficients (Born and Wolf, Principles of Optics, 1999, 1.6 and 14.4), titanium after Johnson and Christy (1974), daylight D65, colour as sRGB. Left out: roughness, haze, absorption in the film, crystalline spots.";

#[cfg(test)]
mod supply_tests;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod wished_tests;
