/** What a column may hold that tells who a person is, with the words of its finding. */
export const IDENTIFIER_KINDS = {
  name: { code: "holds-names", words: "names of persons" },
  birthDate: { code: "holds-birth-dates", words: "dates of birth" },
  number: { code: "holds-record-numbers", words: "record, insurance or national numbers" },
  postcode: { code: "holds-postcodes", words: "postcodes" },
  address: { code: "holds-addresses", words: "addresses" },
  email: { code: "holds-email-addresses", words: "e-mail addresses" },
  telephone: { code: "holds-telephone-numbers", words: "telephone numbers" },
  freeText: { code: "holds-free-text", words: "free text, in which anything about a person may stand" },
} as const;

export type IdentifierKind = keyof typeof IDENTIFIER_KINDS;
