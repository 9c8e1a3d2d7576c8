import { type Sign, type Stroke, signs } from './signs.ts'

/** Samples of a picture, row by row, `channels` together. */
export interface Canvas {
  readonly width: number
  readonly height: number
  readonly channels: number
  readonly data: Uint8Array | Uint16Array | Float32Array
}

const between = 1.6

/** Signs that can be written; others throw RangeError. */
const signOf = (letter: string): Sign => {
  const found = signs[letter]
  if (found === undefined)
    throw new RangeError(`lettering: expected one of "${Object.keys(signs).join('')}", got "${letter}"`)
  return found
}

/** Width of a line of text, pixels, by the height of its capitals. */
export function textWidth(text: string, height: number): number {
  const wide = [...text].reduce((sum, letter) => sum + signOf(letter).wide + between, -between)
  return (Math.max(0, wide) * height) / 6
}

/**
 * Writes a line of text with soft edges.
 * @param x, y left end of its base line, pixels from the upper left corner
 * @param height of its capitals, pixels
 * @param ink  samples of a pixel that is all text
 */
export function write(
  canvas: Canvas,
  text: string,
  x: number,
  y: number,
  height: number,
  ink: readonly number[],
): void {
  const unit = height / 6
  const radius = Math.max(0.6, unit * 0.4)
  let at = x
  for (const letter of text) {
    const { wide, strokes } = signOf(letter)
    const lines = strokes.map(stroke => stroke.map(([sx, sy]) => [at + sx * unit, y - sy * unit] as const))
    draw(canvas, lines, at - 2 * unit, at + (wide + 2) * unit, y - 8 * unit, y + 2 * unit, radius, ink)
    at += (wide + between) * unit
  }
}

function draw(
  { width, height, channels, data }: Canvas,
  strokes: readonly Stroke[],
  left: number,
  right: number,
  top: number,
  bottom: number,
  radius: number,
  ink: readonly number[],
): void {
  const whole = !(data instanceof Float32Array)
  for (let py = Math.max(0, Math.floor(top)); py < Math.min(height, bottom); py++)
    for (let px = Math.max(0, Math.floor(left)); px < Math.min(width, right); px++) {
      const covered = Math.min(1, Math.max(0, radius + 0.5 - distance(strokes, px + 0.5, py + 0.5)))
      if (covered === 0) continue
      for (let c = 0; c < channels; c++) {
        const place = (py * width + px) * channels + c
        const mixed = data[place]! + covered * (ink[c]! - data[place]!)
        data[place] = whole ? Math.round(mixed) : mixed
      }
    }
}

function distance(strokes: readonly Stroke[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY
  for (const stroke of strokes)
    for (let i = 1; i < stroke.length; i++) {
      const [ax, ay] = stroke[i - 1]!
      const [bx, by] = stroke[i]!
      const [dx, dy] = [bx - ax, by - ay]
      const along = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)))
      least = Math.min(least, Math.hypot(x - ax - along * dx, y - ay - along * dy))
    }
  return least
}
