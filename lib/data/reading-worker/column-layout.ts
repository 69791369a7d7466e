/** Bytes before the numbers of a file of columns: the head as JSON, padded with spaces. Enough for 400 columns. */
export const HEAD_BYTES = 65_536;
