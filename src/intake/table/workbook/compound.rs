//! The outer form of XLS workbooks, looked through before they are read.
//!
//! A compound file ([MS-CFB], "Compound File Binary File Format") is cut into sectors, and a
//! table says for each of them which one follows. In a damaged file a chain can lead back into
//! itself, and the reader of workbooks would follow it until no memory is left.

use std::fs::File;
use std::io::{self, Read as _, Seek, SeekFrom};

/// Values from here on name no sector ([MS-CFB] 2.1).
const NO_SECTOR: u32 = 0xffff_fffa;
/// Values from here on name no sector of the table itself.
const NO_TABLE: u32 = 0xffff_fffc;

/// Looks for chains of sectors that never end. What is wrong otherwise is left to the reader.
pub(super) fn look_through(mut file: File) -> Result<(), String> {
    match has_endless_chain(&mut file) {
        Ok(false) | Err(_) => Ok(()),
        Ok(true) => Err("its chain of sectors leads back into itself".to_owned()),
    }
}

fn has_endless_chain(file: &mut File) -> io::Result<bool> {
    let length = file.metadata()?.len();
    let mut head = [0; 512];
    file.rewind()?;
    file.read_exact(&mut head)?;
    let size = match head[30] {
        12 => 4096,
        _ => 512,
    };
    let sectors = length / size;
    let mut sector = |number: u32| sector(file, number, size);
    // The sectors that hold the table: the first in the header, the others in a chain whose
    // sectors end with the number of the next.
    let mut of_table = numbers(&head[76..512]);
    let (mut next, mut passed) = (number(&head, 68), 0);
    while next < NO_SECTOR {
        passed += 1;
        if passed > sectors {
            return Ok(true);
        }
        of_table.extend(numbers(&sector(next)?));
        next = of_table.pop().unwrap_or(NO_SECTOR);
    }
    of_table.retain(|number| *number < NO_TABLE);
    if of_table.len() as u64 > sectors {
        return Ok(true);
    }
    let mut table = Vec::new();
    for number in of_table {
        table.extend(numbers(&sector(number)?));
    }
    if is_endless(&table) {
        return Ok(true);
    }
    // The table of the small sectors is itself kept in a chain.
    let (mut small, mut next) = (Vec::new(), number(&head, 60));
    while next < NO_SECTOR {
        small.extend(numbers(&sector(next)?));
        next = table.get(next as usize).copied().unwrap_or(NO_SECTOR);
    }
    Ok(is_endless(&small))
}

/// What there is of a sector; the last one may be cut off.
fn sector(file: &mut File, number: u32, size: u64) -> io::Result<Vec<u8>> {
    file.seek(SeekFrom::Start((u64::from(number) + 1) * size))?;
    let mut bytes = Vec::new();
    file.take(size).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn number(bytes: &[u8], at: usize) -> u32 {
    bytes
        .get(at..at + 4)
        .map_or(NO_SECTOR, |four| numbers(four)[0])
}

fn numbers(bytes: &[u8]) -> Vec<u32> {
    let four = bytes.chunks_exact(4);
    four.map(|four| u32::from_le_bytes([four[0], four[1], four[2], four[3]]))
        .collect()
}

/// Whether any chain leads back into itself.
fn is_endless(table: &[u32]) -> bool {
    // The walk on which each sector was first met; 0 for none.
    let mut met = vec![0_u32; table.len()];
    for (walk, start) in (1..).zip(0..table.len()) {
        let mut at = start;
        while met[at] == 0 {
            met[at] = walk;
            match table.get(table[at] as usize) {
                Some(_) => at = table[at] as usize,
                None => break,
            }
            if met[at] == walk {
                return true;
            }
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    const END: u32 = 0xffff_fffe;

    #[test]
    fn a_chain_that_leads_back_is_endless() {
        assert!(!is_endless(&[]));
        assert!(!is_endless(&[1, 2, END, 1, END]));
        assert!(!is_endless(&[END, 0, 1, 2]));
        assert!(is_endless(&[0]));
        assert!(is_endless(&[END, 2, 1]));
        assert!(is_endless(&[1, 2, 3, 1]));
    }
}
