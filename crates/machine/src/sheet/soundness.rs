use super::names::Names;
use super::report::Report;
use crate::model::Machine;
pub(super) fn check(_machine: &Machine, _names: &Names<'_>, _report: &Report) {}
