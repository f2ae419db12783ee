/** Marks that are no text and that no database keeps, as lib/book takes them out of what is typed: control characters, turned directions, halves of a pair. */
export const NO_TEXT_MARKS = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F-\u009F\u202A-\u202E\u2066-\u2069\p{Cs}]/gu;
