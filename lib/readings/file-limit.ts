/** Largest readings file taken, in bytes: 256 MiB, about a million rows of thirty columns. The browser checks it too. */
export const MAX_READING_FILE_BYTES = 256 * 1024 * 1024;

export const readingFileTooLarge =
  "This file is larger than 256 MB. Export a shorter period around the fault, or fewer columns, and choose that file.";

export const readingFileEmpty = "This file is empty. Export the readings again and choose the new file.";
