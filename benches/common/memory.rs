//! Peak memory of this process, where the system tells it.

/// Peak resident memory in MiB, from `VmHWM` of `/proc/self/status`; none where there is no such file.
pub(crate) fn peak_mib() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kib: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kib.div_ceil(1024))
}
