/** One part of a count's key: "/" separates parts and ":" marks a year, so those of a label are written otherwise. */
export function keyPart(label: string): string {
  return label.replaceAll("%", "%25").replaceAll("/", "%2F").replaceAll(":", "%3A");
}
