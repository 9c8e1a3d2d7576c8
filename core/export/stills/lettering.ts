/** Samples of a picture, row by row, `channels` together. */
export interface Canvas {
  readonly width: number
  readonly height: number
  readonly channels: number
  readonly data: Uint8Array | Uint16Array | Float32Array
}

/** A line of points on a grid: x from the sign's left, y from the base line, capitals six high. */
type Stroke = readonly (readonly [x: number, y: number])[]

interface Sign {
  readonly wide: number
  readonly strokes: readonly Stroke[]
}

const sign = (wide: number, ...strokes: readonly Stroke[]): Sign => ({ wide, strokes })

/** Upright single-stroke lettering, drawn for the angles of contact sheets and the numbers of comparisons: what they need, and no more. */
const signs: Readonly<Record<string, Sign>> = {
  '0': sign(4, [
    [1, 0],
    [3, 0],
    [4, 1],
    [4, 5],
    [3, 6],
    [1, 6],
    [0, 5],
    [0, 1],
    [1, 0],
  ]),
  '1': sign(2.6, [
    [0.4, 4.6],
    [2, 6],
    [2, 0],
  ]),
  '2': sign(4, [
    [0, 5],
    [1, 6],
    [3, 6],
    [4, 5],
    [4, 4],
    [0, 0],
    [4, 0],
  ]),
  '3': sign(
    4,
    [
      [0, 5.2],
      [1, 6],
      [3, 6],
      [4, 5],
      [4, 4],
      [3, 3.1],
      [1.6, 3.1],
    ],
    [
      [3, 3.1],
      [4, 2.2],
      [4, 1],
      [3, 0],
      [1, 0],
      [0, 0.8],
    ],
  ),
  '4': sign(4, [
    [3, 0],
    [3, 6],
    [0, 2],
    [4, 2],
  ]),
  '5': sign(4, [
    [3.8, 6],
    [0.4, 6],
    [0.2, 3.3],
    [1, 3.8],
    [3, 3.8],
    [4, 2.8],
    [4, 1],
    [3, 0],
    [1, 0],
    [0, 0.8],
  ]),
  '6': sign(4, [
    [3.5, 6],
    [1.6, 5.2],
    [0, 2.8],
    [0, 1],
    [1, 0],
    [3, 0],
    [4, 1],
    [4, 2.6],
    [3, 3.6],
    [1, 3.6],
    [0, 2.6],
  ]),
  '7': sign(4, [
    [0, 6],
    [4, 6],
    [1.4, 0],
  ]),
  '8': sign(4, [
    [1, 3.2],
    [0.2, 4],
    [0.2, 5.2],
    [1, 6],
    [3, 6],
    [3.8, 5.2],
    [3.8, 4],
    [3, 3.2],
    [1, 3.2],
    [0, 2.3],
    [0, 1],
    [1, 0],
    [3, 0],
    [4, 1],
    [4, 2.3],
    [3, 3.2],
  ]),
  '9': sign(4, [
    [0.5, 0],
    [2.4, 0.8],
    [4, 3.2],
    [4, 5],
    [3, 6],
    [1, 6],
    [0, 5],
    [0, 3.4],
    [1, 2.4],
    [3, 2.4],
    [4, 3.4],
  ]),
  '−': sign(3.6, [
    [0.2, 3],
    [3.4, 3],
  ]),
  '.': sign(0.6, [
    [0.3, 0],
    [0.3, 0.1],
  ]),
  '°': sign(2, [
    [0.6, 4.4],
    [1.4, 4.4],
    [1.8, 4.8],
    [1.8, 5.6],
    [1.4, 6],
    [0.6, 6],
    [0.2, 5.6],
    [0.2, 4.8],
    [0.6, 4.4],
  ]),
  '>': sign(3.4, [
    [0, 5],
    [3.4, 3],
    [0, 1],
  ]),
  '%': sign(
    5,
    [
      [0.5, 0],
      [4.5, 6],
    ],
    [
      [0.2, 4.2],
      [1.2, 3.6],
      [2, 4.4],
      [2, 5.2],
      [1, 6],
      [0.2, 5.4],
      [0.2, 4.2],
    ],
    [
      [3, 0.6],
      [4, 0],
      [4.8, 0.8],
      [4.8, 1.8],
      [3.8, 2.4],
      [3, 1.8],
      [3, 0.6],
    ],
  ),
  A: sign(
    4.4,
    [
      [0, 0],
      [2.2, 6],
      [4.4, 0],
    ],
    [
      [0.8, 2],
      [3.6, 2],
    ],
  ),
  B: sign(
    4,
    [
      [0, 0],
      [0, 6],
      [2.6, 6],
      [3.6, 5.2],
      [3.6, 4],
      [2.6, 3.2],
      [0, 3.2],
    ],
    [
      [2.6, 3.2],
      [4, 2.2],
      [4, 1],
      [3, 0],
      [0, 0],
    ],
  ),
  Δ: sign(4.6, [
    [0, 0],
    [2.3, 6],
    [4.6, 0],
    [0, 0],
  ]),
  E: sign(
    3.4,
    [
      [3.4, 6],
      [0, 6],
      [0, 0],
      [3.4, 0],
    ],
    [
      [0, 3.1],
      [2.8, 3.1],
    ],
  ),
  a: sign(
    3.2,
    [
      [0.4, 3.6],
      [1.2, 4],
      [2.4, 4],
      [3.2, 3.2],
      [3.2, 0],
    ],
    [
      [3.2, 2.3],
      [1, 2.3],
      [0, 1.7],
      [0, 0.7],
      [1, 0],
      [2.2, 0],
      [3.2, 0.8],
    ],
  ),
  e: sign(3.2, [
    [0, 2.1],
    [3.2, 2.1],
    [3.2, 3],
    [2.2, 4],
    [1, 4],
    [0, 3],
    [0, 1],
    [1, 0],
    [2.2, 0],
    [3.1, 0.7],
  ]),
  m: sign(
    5,
    [
      [0, 0],
      [0, 4],
    ],
    [
      [0, 3.2],
      [1, 4],
      [1.8, 4],
      [2.5, 3.2],
      [2.5, 0],
    ],
    [
      [2.5, 3.2],
      [3.5, 4],
      [4.3, 4],
      [5, 3.2],
      [5, 0],
    ],
  ),
  x: sign(
    3,
    [
      [0, 0],
      [3, 4],
    ],
    [
      [0, 4],
      [3, 0],
    ],
  ),
  ' ': sign(2),
  t: sign(
    2.6,
    [
      [1, 5.6],
      [1, 1],
      [1.8, 0],
      [2.6, 0],
    ],
    [
      [0, 4],
      [2.4, 4],
    ],
  ),
  i: sign(
    0.6,
    [
      [0.3, 0],
      [0.3, 4],
    ],
    [
      [0.3, 5.6],
      [0.3, 5.8],
    ],
  ),
  l: sign(0.6, [
    [0.3, 0],
    [0.3, 6],
  ]),
  u: sign(
    3.2,
    [
      [0, 4],
      [0, 1],
      [0.8, 0],
      [1.8, 0],
      [3.2, 1.4],
    ],
    [
      [3.2, 4],
      [3.2, 0],
    ],
  ),
  r: sign(
    2.4,
    [
      [0.2, 0],
      [0.2, 4],
    ],
    [
      [0.2, 2.4],
      [1.4, 4],
      [2.4, 4],
    ],
  ),
  n: sign(
    3.2,
    [
      [0.2, 0],
      [0.2, 4],
    ],
    [
      [0.2, 2.6],
      [1.4, 4],
      [2.4, 4],
      [3.2, 3.2],
      [3.2, 0],
    ],
  ),
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
