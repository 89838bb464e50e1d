//! Places in the tables of one machine. Never stored: entries and files carry ids.

macro_rules! index_type {
    ($(#[$meta:meta])* $name:ident) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub usize);
    };
}

index_type!(
    /// A part's place in [`crate::model::Machine::parts`].
    PartIx
);
index_type!(
    /// A stance's place in [`crate::model::Machine::stances`].
    StanceIx
);
index_type!(
    /// A circuit's place in [`crate::model::Machine::circuits`].
    CircuitIx
);
index_type!(
    /// A fact's place in [`crate::model::Machine::facts`].
    FactIx
);
index_type!(
    /// A critical fixing's place in [`crate::model::Machine::criticals`].
    CriticalIx
);
index_type!(
    /// A step's place in [`crate::model::Machine::steps`].
    StepIx
);
index_type!(
    /// A job's place in [`crate::model::Machine::jobs`].
    JobIx
);
index_type!(
    /// A question's place in [`crate::model::Machine::questions`].
    QuestionIx
);
index_type!(
    /// An item's place in [`crate::model::Machine::items`].
    ItemIx
);
index_type!(
    /// A tool's place in [`crate::model::Machine::tools`].
    ToolIx
);
