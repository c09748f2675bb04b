//! The library's search.

use crate::app::shelf::Shelf;
use crate::present::library::SearchView;
use crate::store::Store;

#[derive(Default)]
pub struct Search;
impl Search {
    pub fn begin(&mut self, _s: &Store, _q: String) {}
    pub fn settle(&mut self) {}
    pub fn take_in(&mut self) -> bool {
        false
    }
    pub fn view(&self, _: &Shelf) -> Option<SearchView> {
        None
    }
}
pub fn index(_: &Store, _: &Shelf) {}
