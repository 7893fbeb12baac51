//! Columns of numbers as bytes, little-endian, so that a file reads the same on every
//! machine.

/// A number of fixed size in a column.
pub trait Fixed: Copy {
    /// Bytes a number.
    const SIZE: usize;
    /// Adds the number to the bytes.
    fn put(self, into: &mut Vec<u8>);
    /// Reads the number from exactly [`Self::SIZE`] bytes.
    fn take(from: &[u8]) -> Self;
}

macro_rules! fixed {
    ($($number:ty),+) => {$(
        impl Fixed for $number {
            const SIZE: usize = size_of::<$number>();
            fn put(self, into: &mut Vec<u8>) {
                into.extend_from_slice(&self.to_le_bytes());
            }
            fn take(from: &[u8]) -> Self {
                let mut bytes = [0; size_of::<$number>()];
                bytes.copy_from_slice(from);
                <$number>::from_le_bytes(bytes)
            }
        }
    )+};
}

fixed!(u8, u32, u64, i64, u128);

/// The numbers as bytes.
pub fn pack<T: Fixed>(numbers: impl ExactSizeIterator<Item = T>) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(numbers.len() * T::SIZE);
    for number in numbers {
        number.put(&mut bytes);
    }
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_come_back_and_stand_little_end_first() {
        assert_eq!(
            pack([1_u32, 0x0102_0304].into_iter()),
            [1, 0, 0, 0, 4, 3, 2, 1]
        );
        for hash in [u128::MAX, 7] {
            assert_eq!(u128::take(&pack([hash].into_iter())), hash);
        }
        for time in [i64::MIN, -1, 0] {
            assert_eq!(i64::take(&pack([time].into_iter())), time);
        }
    }
}
