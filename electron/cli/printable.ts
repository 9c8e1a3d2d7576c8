/** A name as one line of a terminal, which must not obey it. */
export function printable(name: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  return name.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ')
}
