//! The columns of a survey: name, level, whether needed, what it means, an example.

/// A column of the survey. The order is the order in which `noticewright new` writes them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Column {
    /// Designation of the enclosure; groups the rows.
    Enclosure,
    /// What the enclosure is, in words.
    Name,
    /// Building, floor or room.
    Area,
    /// Whether the enclosure is the origin, a meter, a board where sources meet, or a point of isolation.
    Role,
    /// Where notices are fixed.
    Positions,
    /// Designation of the circuit.
    Circuit,
    /// What the circuit does here.
    Serves,
    /// The board, transformer or source from which it comes.
    FedFrom,
    /// Where its energy comes from in the end.
    Source,
    /// Nominal voltage.
    Nominal,
    /// Live conductors present.
    Conductors,
    /// Earthing arrangement.
    Earthing,
    /// Highest nominal voltage to earth.
    VoltageToEarth,
    /// Whether a person would expect this voltage here.
    Expected,
    /// The device or devices that isolate it.
    Isolator,
    /// Where those devices are.
    IsolatorLocation,
    /// What kind of device.
    DeviceKind,
    /// What the device switches.
    Poles,
    /// Whether it may be opened under load.
    OnLoad,
    /// Place in a sequence.
    Order,
    /// What to do or warn of first.
    BeforeIsolating,
    /// How it is secured off.
    Locking,
    /// Name of an interlock.
    Interlock,
    /// What the interlock does.
    InterlockKind,
    /// What stays live inside when the isolator is off.
    LiveAfter,
    /// The device that makes that dead.
    UpstreamIsolator,
    /// Where that device is.
    UpstreamLocation,
    /// A circuit whose neutral this one shares or borrows.
    NeutralFrom,
    /// Stored voltage at the moment of isolation.
    StoredV,
    /// Seconds until it is below the limit.
    DischargeS,
    /// Solar modules in series.
    PvSeries,
    /// Open-circuit volts of one module.
    PvVoc,
    /// Temperature coefficient of that, per cent per kelvin.
    PvBeta,
    /// Lowest module temperature, degrees Celsius.
    PvTmin,
    /// Why locations may be left out, and who says so.
    NoConfusion,
    /// Why a device needs no label, and who says so.
    PurposeObvious,
    /// Free flat area.
    Space,
    /// Wanted size of the notice.
    Size,
    /// From how far the words are read.
    ReadingDistance,
    /// From how far the sign is seen.
    SignDistance,
    /// What the notice must stand up to.
    Environment,
    /// What it is fixed on.
    Surface,
    /// Record number or link for the code.
    RecordLink,
    /// How the row is known.
    Basis,
    /// Reference of a drawing.
    Drawing,
    /// Free text for the schedule.
    Note,
}
