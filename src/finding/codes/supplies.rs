//! What can be wrong with a row of the supplies file by itself.

use super::{Code, Severity};

codes! {
    /// Something feeds a source.
    ///
    /// A source begins the network: energy comes out of it, and what feeds it has no meaning. Most often it was meant
    /// the other way round, and the path from the source into the installation is missing, so that the proof would not
    /// see it. Name the source in the `fed_from` of what it feeds; a UPS, a converter or a transformer has a `kind` of
    /// its own.
    SOURCE_IS_FED = "source-is-fed", Error;
    /// The nominal voltage of a source is not given.
    ///
    /// Every voltage that the source causes is unknown without it, and so is the voltage between its conductors and
    /// those of others. Write it in `nominal`.
    SOURCE_WITHOUT_VOLTAGE = "source-without-voltage", Warning;
    /// Two rows describe the same designation at the same location.
    ///
    /// They would be two devices with one name, and a feed or a point of isolation could mean either. Keep one row; if
    /// there are two devices, tell them apart by designation or location.
    DEVICE_DESCRIBED_TWICE = "device-described-twice", Error;
    /// The designation of one row reads as several devices.
    ///
    /// ` + ` stands between devices wherever they are named, so that nothing could name this one. Give each device a
    /// row of its own.
    SEVERAL_DEVICES_IN_ONE_ROW = "several-devices-in-one-row", Error;
    /// `off_position` is filled for something that is no changeover.
    ///
    /// Only a changeover can have a position in which nothing is connected; what is said here is not taken into
    /// account. Empty the cell, or correct `kind`.
    OFF_POSITION_WITHOUT_CHANGEOVER = "off-position-without-changeover", Warning;
    /// The cell is neither `proved` nor a vector group that a transformer can have.
    ///
    /// How high the voltage between conductors of two circuits is depends on whether line 1 of one is line 1 of the
    /// other. Write `proved` where that was proved on site; for a transformer the vector group of its plate (IEC
    /// 60076-1), such as `Dyn11`. Leave the cell empty where it is not known: the higher voltage is shown then.
    PHASING_NOT_UNDERSTOOD = "phasing-not-understood", Error;
    /// A vector group stands at something that is no transformer.
    ///
    /// Nothing else turns the lines against what feeds it, so the cell is in the wrong row or `kind` is wrong. Write
    /// `proved`, or nothing.
    VECTOR_GROUP_WITHOUT_TRANSFORMER = "vector-group-without-transformer", Warning;
}
