//! What the tests of the network share: a survey and a supplies file as text, joined.

use super::{EnclosureId, Network, NetworkOptions, Side, WayId};
use crate::finding::Finding;
use crate::supplies::{DescribedDevice, Kind, Phasing, Supplies, SupplyColumn};
use crate::survey::value::{Current, DeviceKind, Earthing, InterlockKind, Nominal, Poles, RecordLink, Volts};
use crate::survey::{ReadOptions, Survey, read};

/// A supplies file from lines under a header, neither with quotation marks: `device,kind,fed_from`.
pub(crate) fn described(header: &str, lines: &[&str]) -> Supplies {
    let column = |name: &str| SupplyColumn::ALL.iter().find(|column| column.name() == name).copied();
    let columns: Vec<_> = header.split(',').map(|name| column(name).unwrap()).collect();
    let device = |(record, line): (usize, &&str)| {
        let mut device = DescribedDevice { record: u32::try_from(record).unwrap(), ..DescribedDevice::default() };
        let cells = line.split(',').map(str::trim);
        columns.iter().zip(cells).filter(|(_, cell)| !cell.is_empty()).for_each(|(column, cell)| {
            if cell == "?" {
                device.not_known.push(*column);
            } else {
                fill(&mut device, *column, cell);
            }
        });
        device
    };
    let mut supplies = Supplies::default();
    supplies.devices.extend(lines.iter().enumerate().map(device));
    supplies
}

fn fill(device: &mut DescribedDevice, column: SupplyColumn, cell: &str) {
    let names = || cell.split(" + ").map(|name| name.trim().to_owned()).collect();
    match column {
        SupplyColumn::Device => cell.clone_into(&mut device.designation),
        SupplyColumn::Kind => device.kind = Some(kind(cell)),
        SupplyColumn::FedFrom => device.fed_from = names(),
        SupplyColumn::Location => cell.clone_into(&mut device.location),
        SupplyColumn::Locking => device.locking = Some(cell.to_owned()),
        SupplyColumn::Interlock => device.interlock = Some(cell.to_owned()),
        SupplyColumn::InterlockKind => device.interlock_kind = Some(interlock_kind(cell)),
        SupplyColumn::Poles => device.poles = Some(poles(cell)),
        SupplyColumn::Nominal => device.nominal = Some(nominal(cell)),
        SupplyColumn::Earthing => device.earthing = Some(earthing(cell)),
        SupplyColumn::InStepWith => device.in_step_with = names(),
        SupplyColumn::Phasing => device.phasing = Some(phasing(cell)),
        SupplyColumn::StartsByItself => device.starts_by_itself = Some(cell == "yes"),
        SupplyColumn::OffPosition => device.off_position = Some(cell == "yes"),
        SupplyColumn::RecordLink => device.record_link = RecordLink::Given(cell.to_owned()),
        SupplyColumn::Note => device.note = Some(cell.to_owned()),
        SupplyColumn::Size | SupplyColumn::ReadingDistance | SupplyColumn::Environment | SupplyColumn::Surface => {
            panic!("give this column in a value of its own")
        }
    }
}

fn kind(cell: &str) -> Kind {
    let others = [
        Kind::Source,
        Kind::Isolator,
        Kind::Switch,
        Kind::Changeover,
        Kind::Transformer,
        Kind::Ups,
        Kind::Converter,
        Kind::Busbar,
    ];
    let kinds = DeviceKind::ALL.into_iter().map(Kind::Device).chain(others);
    kinds.into_iter().find(|kind| kind.name() == cell).unwrap()
}

fn interlock_kind(cell: &str) -> InterlockKind {
    match cell {
        "coupled" => InterlockKind::Coupled,
        "trapped-key" => InterlockKind::TrappedKey,
        "auxiliary-contact" => InterlockKind::AuxiliaryContact,
        "no-parallel" => InterlockKind::NoParallel,
        other => panic!("{other}"),
    }
}

/// `3+N`, `2`.
fn poles(cell: &str) -> Poles {
    let (lines, neutral) = cell.strip_suffix("+N").map_or((cell, false), |lines| (lines, true));
    Poles { lines: lines.parse().unwrap(), neutral }
}

/// `230/400`, `230`, `600 dc`.
fn nominal(cell: &str) -> Nominal {
    let volts = |text: &str| Some(Volts::whole(text.parse().unwrap()));
    let (current, figures) = cell.strip_suffix(" dc").map_or((Current::Ac, cell), |figures| (Current::Dc, figures));
    match (figures.split_once('/'), current) {
        (Some((neutral, lines)), _) => Nominal { current, to_neutral: volts(neutral), between: volts(lines) },
        (None, Current::Ac) => Nominal { current, to_neutral: volts(figures), between: None },
        (None, Current::Dc) => Nominal { current, to_neutral: None, between: volts(figures) },
    }
}

fn earthing(cell: &str) -> Earthing {
    match cell {
        "TN-S" => Earthing::TnS,
        "TN-C-S" => Earthing::TnCS,
        "TT" => Earthing::Tt,
        "IT" => Earthing::It,
        "line-earthed" => Earthing::LineEarthed,
        "midpoint" => Earthing::Midpoint,
        "pole-earthed" => Earthing::PoleEarthed,
        "unearthed" => Earthing::Unearthed,
        "SELV" => Earthing::Selv,
        "PELV" => Earthing::Pelv,
        "FELV" => Earthing::Felv,
        other => panic!("{other}"),
    }
}

/// `proved`, `Dyn11`.
fn phasing(cell: &str) -> Phasing {
    if cell == "proved" {
        return Phasing::Proved;
    }
    Phasing::Clock(cell.trim_start_matches(|character: char| !character.is_ascii_digit()).parse().unwrap())
}

/// A survey from rows under a header.
pub(crate) fn surveyed(header: &str, rows: &[&str]) -> Survey {
    let text = format!("{header}\n{}\n", rows.join("\n"));
    read(text.as_bytes(), &ReadOptions::new("test.csv")).survey
}

/// The network of both, with what was found.
pub(crate) fn joined(survey: &Survey, supplies: &Supplies) -> (Network, Vec<Finding>) {
    Network::join(survey, Some(supplies), &NetworkOptions::default())
}

/// Where the live parts of each row of the first enclosure are connected: `load of Q7 (Board C)`.
pub(crate) fn live_parts(network: &Network) -> Vec<String> {
    let of_way = |way: WayId| {
        let terminals = network.live_parts(way).iter().map(|terminal| {
            let side = match terminal.side {
                Side::Supply => "supply",
                Side::Load => "load",
            };
            format!("{side} of {}", network.node_name(terminal.node))
        });
        terminals.collect::<Vec<_>>().join(", ")
    };
    network.way_ids(EnclosureId::new(0)).map(of_way).collect()
}
