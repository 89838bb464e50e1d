//! What a bike fetches, by the comparables a person noted.
//!
//! A comparable ([`comparable`], read from a table by [`read`]) is an advertisement or a sale; a bid that was not met
//! never counts. [`fit`] holds one robust regression of the logarithm of price for two of them or two hundred: with
//! few, the starting values of [`effects`] decide; with more, the comparables overrule them. The band comes with it.
//! [`selling`] turns the band into a price to sell by a day, and the price to wait for; [`findings`] says what each
//! open finding costs. [`robust`] is the textbook regression, without starting values, that the method is checked by.

pub mod comparable;
pub mod effects;
pub mod findings;
pub mod fit;
mod linear;
pub mod read;
pub mod robust;
pub mod selling;
mod shape;
