import { type Args, UsageError } from './args.ts'

/** A flag's number, or undefined when it is not given. Throws UsageError. */
export function numberOf(args: Args, flag: string): number | undefined {
  const text = args.value(flag)
  return text === undefined ? undefined : toNumber(text, flag)
}

/** A flag's numbers, one for each name, parted by commas. */
export function numbersOf(args: Args, flag: string, names: readonly string[]): readonly number[] | undefined {
  const text = args.value(flag)
  if (text === undefined) return undefined
  const parts = text.split(',')
  if (parts.length !== names.length)
    throw new UsageError(`--${flag}: expected ${names.join(',')}, got "${text}"`)
  return parts.map((part, i) => toNumber(part, `${flag}: ${names[i]}`))
}

/** `WxH` in pixels. */
export function sizeOf(text: string, flag: string, most: number): { width: number; height: number } {
  const match = /^(\d+)x(\d+)$/i.exec(text)
  const [width, height] = [Number(match?.[1]), Number(match?.[2])]
  if (match === null || width < 1 || height < 1)
    throw new UsageError(`--${flag}: expected WxH in pixels, such as 1280x720, got "${text}"`)
  if (width > most || height > most)
    throw new UsageError(`--${flag}: at most ${most} pixels a side, got "${text}"`)
  return { width, height }
}

/** A whole number from `least` to `most`. */
export function countOf(text: string, flag: string, least: number, most: number): number {
  const count = toNumber(text, flag)
  if (Number.isInteger(count) && count >= least && count <= most) return count
  throw new UsageError(`--${flag}: expected a whole number from ${least} to ${most}, got "${text}"`)
}

function toNumber(text: string, place: string): number {
  const number = text.trim() === '' ? Number.NaN : Number(text)
  if (Number.isFinite(number)) return number
  throw new UsageError(`--${place}: expected a number, got "${text}"`)
}

/** `A-B` or `A`, whole numbers in `1..count`; all of them when it is left out. */
export function rangeOf(
  text: string | undefined,
  flag: string,
  count: number,
): readonly [first: number, last: number] {
  if (text === undefined) return [1, count]
  const match = /^(\d{1,9})(?:-(\d{1,9}))?$/.exec(text.trim())
  const [first, last] = [Number(match?.[1]), Number(match?.[2] ?? match?.[1])]
  if (match === null || first < 1 || last < first || last > count)
    throw new UsageError(
      `--${flag}: expected A-B with 1 ≤ A ≤ B ≤ ${count}, such as 1-${count}, got "${text}"`,
    )
  return [first, last]
}
