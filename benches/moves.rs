//! How long the steps of the search take by themselves: timing a run, putting one job in, ruin, one whole round, an exchange of runs;
//! on the demo, where runs are timed exactly, and on a routing instance, where their summaries do.

#[path = "routing/problem.rs"]
mod problem;
#[path = "routing/solomon.rs"]
mod solomon;

use criterion::{Criterion, criterion_group, criterion_main};
use evenrun::input::read_site;
use evenrun::route::{Instance, Question, Workbench, pose};
use evenrun::site::{Calendar, Site};
use evenrun::walk::Walks;
use evenrun::work::{due_on, gather};
use std::hint::black_box;
use std::path::Path;

const SEED: u64 = 1;

fn demo() -> Instance {
    let reading = read_site(Path::new("demo/larkfield"));
    let site: Site = reading.expect("the demo can be read").site;
    let date = site.date.expect("the demo names its date");
    let calendar = Calendar::new(date, site.time_zone.as_deref());
    let present = site.present(date, &[]);
    let walks = Walks::of(&site, &calendar, &present);
    let jobs = gather(&site, &due_on(&site, date), date, &present, &walks);
    pose(&Question {
        site: &site,
        calendar: &calendar,
        present: &present,
        walks: &walks,
        jobs: &jobs.jobs,
    })
}

fn steps(criterion: &mut Criterion) {
    let routing = solomon::read(Path::new("fixtures/routing/RC208.txt"));
    let routing = routing.expect("the fixture can be read");
    let plain = problem::instance(&routing);
    for (name, instance) in [("demo", demo()), (routing.name.as_str(), plain)] {
        let mut bench = Workbench::new(&instance, SEED);
        let mut group = criterion.benchmark_group(name);
        group.bench_function("time a run", |b| b.iter(|| black_box(bench.time_a_run())));
        group.bench_function("insert a job", |b| {
            b.iter(|| black_box(bench.insert_a_job()));
        });
        group.bench_function("ruin", |b| b.iter(|| black_box(bench.ruin())));
        group.bench_function("ruin and recreate", |b| {
            b.iter(|| black_box(bench.ruin_and_recreate()));
        });
        group.bench_function("exchange runs", |b| {
            b.iter(|| black_box(bench.exchange_runs()));
        });
        group.finish();
    }
}

criterion_group!(benches, steps);
criterion_main!(benches);
