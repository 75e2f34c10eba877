//! A line of the manifest with its checksum: CRC-32 (ISO 3309) over the line up to its
//! last comma.

/// The line with its checksum.
pub fn sealed(line: &str) -> String {
    format!("{line},{:08x}", crc32fast::hash(line.as_bytes()))
}

/// The line before its checksum, when that is right.
pub fn checked(line: &[u8]) -> Option<&[u8]> {
    let comma = line.iter().rposition(|&byte| byte == b',')?;
    let (text, sum) = (&line[..comma], &line[comma + 1..]);
    let right = format!("{:08x}", crc32fast::hash(text));
    (right.as_bytes() == sum).then_some(text)
}

/// The number of the piece of a line.
pub fn number_of(line: &[u8]) -> Option<&str> {
    let first = line.split(|&byte| byte == b',').next()?;
    std::str::from_utf8(first).ok()
}
