/** The cells of delimited text, one sign at a time: a second reader that shares nothing with the first. */
export function naiveCsv(text: string, delimiter: string, quote: string): string[][] {
  const records: string[][] = [];
  let record: string[] = [];
  let cell = "";
  let isQuoted = false;
  let wasQuoted = false;
  const endRecord = () => {
    // A line with nothing on it is no record.
    if (record.length > 0 || cell !== "" || wasQuoted) records.push([...record, cell]);
    record = [];
    cell = "";
    wasQuoted = false;
  };
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at] ?? "";
    if (isQuoted) {
      if (sign !== quote) cell += sign;
      else if (text[at + 1] === quote) {
        cell += quote;
        at += 1;
      } else isQuoted = false;
    } else if (sign === quote && cell === "" && !wasQuoted) {
      isQuoted = true;
      wasQuoted = true;
    } else if (sign === delimiter) {
      record.push(cell);
      cell = "";
      wasQuoted = false;
    } else if (sign === "\n" || sign === "\r") endRecord();
    else cell += sign;
  }
  endRecord();
  return records;
}
