/** The cover in a row, where there is no place for its reasons; the return's own page gives them. */
export const coverLabels: Readonly<Record<string, string>> = {
  "in-cover": "Covered",
  "in-cover-by-grace": "Covered, by grace",
  "covered-by-field-action": "Covered by a field action",
  "outside-makers-guarantee": "Outside the maker's guarantee",
  "cannot-tell-yet": "Cannot be told yet",
};
