import type { IdentifierKind } from "./privacy-kinds.ts";

/** Words of a column's name that say what it holds, each on its own or all of a list together. */
const NAMED: readonly (readonly [IdentifierKind, readonly string[]])[] = [
  [
    "name",
    [
      "surname",
      "forename",
      "firstname",
      "lastname",
      "givenname",
      "familyname",
      "fullname",
      "patientname",
      "maidenname",
      "vorname",
      "nachname",
      "familienname",
      "prenom",
      "apellido",
      "apellidos",
      "cognome",
      "achternaam",
      "voornaam",
      "efternamn",
      "fornamn",
      "etternavn",
      "fornavn",
      "efternavn",
      "first name",
      "last name",
      "given name",
      "family name",
      "full name",
      "maiden name",
      "patient name",
      "patientenname",
      "arztname",
      "surgeon name",
      "initials",
    ],
  ],
  [
    "birthDate",
    [
      "dob",
      "birthdate",
      "birthday",
      "dateofbirth",
      "geburtsdatum",
      "geboortedatum",
      "fodselsdato",
      "fodelsedatum",
      "birth date",
      "birth day",
      "date birth",
    ],
  ],
  [
    "number",
    [
      "mrn",
      "ssn",
      "nhs",
      "personnummer",
      "personnr",
      "fodselsnummer",
      "cpr",
      "bsn",
      "nin",
      "medicare",
      "hospital number",
      "record number",
      "insurance number",
      "national number",
      "kvnr",
      "versichertennummer",
      "versichertennr",
      "versicherten nummer",
      "versicherten nr",
      "krankenversichertennummer",
      "sozialversicherungsnummer",
      "svnr",
      "sv nummer",
      "rentenversicherungsnummer",
      "aufnahmenummer",
      "aufnahmenr",
      "ausweisnummer",
      "social security",
      "passport",
    ],
  ],
  [
    "postcode",
    ["postcode", "postalcode", "zip", "zipcode", "plz", "postleitzahl", "postal code", "post code"],
  ],
  ["address", ["address", "street", "adresse", "strasse", "anschrift"]],
  ["email", ["email", "mail"]],
  ["telephone", ["phone", "telephone", "telefon", "telefoon", "tel", "phonenumber", "mobile number"]],
  [
    "freeText",
    ["comment", "comments", "remark", "remarks", "freetext", "free text", "notes", "bemerkung", "kommentar"],
  ],
];

/** What the name of a column says that it holds, or undefined. */
export function kindByHeader(header: string): IdentifierKind | undefined {
  const words = header
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replaceAll("ø", "o")
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .split(/[^a-z]+/)
    .filter((word) => word !== "");
  if (words.join("") === "name") return "name";
  const isSaid = (phrase: string) => phrase.split(" ").every((word) => words.includes(word));
  return NAMED.find(([, phrases]) => phrases.some(isSaid))?.[0];
}
