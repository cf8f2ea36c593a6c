/** One part of a count's key: "/" separates parts, so a "/" of a label is written otherwise. */
export function keyPart(label: string): string {
  return label.replaceAll("%", "%25").replaceAll("/", "%2F");
}
