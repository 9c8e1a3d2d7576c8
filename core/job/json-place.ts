/** Line and column of a JSON error, where the engine names the position. */
export function placeInJson(text: string, error: unknown): string {
  const detail = error instanceof Error ? error.message : String(error)
  const position = /position (\d+)/.exec(detail)?.[1]
  if (position === undefined) return text.trim() === '' ? 'the empty file' : 'the text'
  const before = text.slice(0, Number(position)).split('\n')
  return `line ${before.length}, column ${before.at(-1)!.length + 1}`
}
