/** A number as GLSL writes floats. */
export function float(value: number): string {
  const text = String(value)
  return /[.e]/.test(text) ? text : `${text}.0`
}
