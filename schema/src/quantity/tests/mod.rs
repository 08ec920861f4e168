//! Quantities against published factors, good and bad inputs, and properties over many.

mod table;
