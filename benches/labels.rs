//! The main job, survey to PDF on disk, at growing numbers of notices; and its floor, the same bytes deflated and written.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a bench that cannot go on stops, and lays its own files"
)]

use std::ffi::OsString;
use std::fmt::Write as _;
use std::io::Write as _;

fn main() {
    divan::main();
}

/// A survey of so many enclosures with two supplies each, every text and code distinct.
fn survey(enclosures: usize) -> String {
    let mut text = String::from(
        "enclosure,name,area,circuit,serves,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,\
         isolator_location,device_kind,poles,locking,record_link,basis,purpose_obvious\n",
    );
    for number in 0..enclosures {
        let (chamber, board) = (number / 40, number % 7);
        let _ = writeln!(
            text,
            "C{chamber}-JB{number},Junction box {number},Chamber {chamber},DB-{board}/{number},evaporator fan,DB-{board},mains,\
             230/400,L1 N,TN-S,230,Q{number},\"Switchroom {chamber}, board {board}\",breaker,3+N,padlock,\
             https://records.example/site/C{chamber}-JB{number},traced,\"beside it, JD\""
        );
        let _ = writeln!(
            text,
            "C{chamber}-JB{number},,,DX-{board}/{number},defrost heater,DX-{board},mains,230/400,L2 N,TN-S,230,\
             X{number},\"Lobby {chamber}, board X{board}\",breaker,3+N,padlock,,traced,"
        );
    }
    text
}

fn run(words: &[&std::path::Path]) {
    let words: Vec<OsString> =
        std::iter::once("noticewright".into()).chain(words.iter().map(|word| word.as_os_str().to_owned())).collect();
    let code = noticewright::cli::run(words);
    assert_eq!(format!("{code:?}"), format!("{:?}", std::process::ExitCode::SUCCESS), "the run failed");
}

#[divan::bench(args = [100, 1_000, 10_000, 100_000], sample_count = 5, sample_size = 1)]
fn labels(bencher: divan::Bencher, enclosures: usize) {
    main_job(bencher, enclosures, &[]);
}

/// The same with every document read again before it takes its name.
#[divan::bench(args = [100, 1_000, 10_000], sample_count = 5, sample_size = 1)]
fn labels_read_back(bencher: divan::Bencher, enclosures: usize) {
    main_job(bencher, enclosures, &["--read-back".as_ref()]);
}

fn main_job(bencher: divan::Bencher, enclosures: usize, further: &[&std::path::Path]) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("survey.csv");
    std::fs::write(&path, survey(enclosures)).unwrap();
    let output = folder.path().join("notices.pdf");
    bencher.bench_local(|| {
        let usual: [&std::path::Path; 6] =
            ["labels".as_ref(), &path, "-o".as_ref(), &output, "--force".as_ref(), "--quiet".as_ref()];
        run(&[&usual, further].concat());
    });
}

/// What no program that makes this document can do without: its streams deflated, on one thread, and all of it written.
#[divan::bench(args = [100, 1_000, 10_000, 100_000], sample_count = 5, sample_size = 1)]
fn floor(bencher: divan::Bencher, enclosures: usize) {
    let folder = tempfile::tempdir().unwrap();
    let (path, output) = (folder.path().join("survey.csv"), folder.path().join("notices.pdf"));
    std::fs::write(&path, survey(enclosures)).unwrap();
    run(&["labels".as_ref(), &path, "-o".as_ref(), &output, "--force".as_ref(), "--quiet".as_ref()]);
    let bytes = std::fs::read(&output).unwrap();
    let streams = streams(&bytes);
    assert!(streams.len() > enclosures / 4);
    let between = bytes.len() - streams.iter().map(|(_, deflated)| deflated).sum::<usize>();
    let mut deflater = libdeflater::Compressor::new(libdeflater::CompressionLvl::new(1).unwrap());
    let mut room = vec![0; deflater.zlib_compress_bound(streams.iter().map(|(plain, _)| plain.len()).max().unwrap())];
    bencher.bench_local(|| {
        let mut file = std::io::BufWriter::new(std::fs::File::create(&output).unwrap());
        for (plain, _) in &streams {
            let length = deflater.zlib_compress(plain, &mut room).unwrap();
            file.write_all(&room[..length]).unwrap();
        }
        file.write_all(&bytes[..between]).unwrap();
        file.into_inner().unwrap().sync_all().unwrap();
    });
}

/// The streams of a document inflated, each with its deflated length.
fn streams(bytes: &[u8]) -> Vec<(Vec<u8>, usize)> {
    let document = lopdf::Document::load_mem(bytes).unwrap();
    let streams = document.objects.values().filter_map(|object| object.as_stream().ok());
    streams.filter_map(|stream| Some((stream.decompressed_content().ok()?, stream.content.len()))).collect()
}
