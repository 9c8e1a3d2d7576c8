/** Text for inside of markup. */
export function escaped(text: string): string {
  return text.replace(/[&<>"]/g, c => `&#${c.charCodeAt(0)};`)
}

export interface Axis {
  readonly label: string
  readonly from: number
  readonly to: number
  readonly step: number
}

export interface Line {
  readonly name: string
  readonly color: string
  readonly points: readonly (readonly [x: number, y: number])[]
}

const [width, height, left, right, top, bottom] = [760, 320, 64, 150, 20, 46]
const plotWidth = width - left - right
const plotHeight = height - top - bottom

/** Lines over two axes, named at their side. */
export function linePlot(x: Axis, y: Axis, lines: readonly Line[]): string {
  const atX = (v: number) => left + ((v - x.from) / (x.to - x.from)) * plotWidth
  const atY = (v: number) => top + (1 - (v - y.from) / (y.to - y.from)) * plotHeight
  const grid = [
    ...ticks(x).map(
      v =>
        `<line x1="${atX(v)}" x2="${atX(v)}" y1="${top}" y2="${top + plotHeight}" class="grid"/>` +
        `<text x="${atX(v)}" y="${top + plotHeight + 16}" text-anchor="middle">${v}</text>`,
    ),
    ...ticks(y).map(
      v =>
        `<line x1="${left}" x2="${left + plotWidth}" y1="${atY(v)}" y2="${atY(v)}" class="grid"/>` +
        `<text x="${left - 8}" y="${atY(v) + 4}" text-anchor="end">${v}</text>`,
    ),
  ]
  const drawn = lines.map(({ name, color, points }, i) => {
    const path = points.map(([a, b]) => `${atX(a).toFixed(1)},${atY(b).toFixed(1)}`).join(' ')
    const at = top + 14 + 20 * i
    return (
      `<polyline points="${path}" fill="none" stroke="${color}" stroke-width="2"/>` +
      `<line x1="${left + plotWidth + 12}" x2="${left + plotWidth + 32}" y1="${at - 4}" y2="${at - 4}" stroke="${color}" stroke-width="3"/>` +
      `<text x="${left + plotWidth + 38}" y="${at}">${escaped(name)}</text>`
    )
  })
  return framed(height, [...grid, ...drawn, ...titles(x.label, y.label)])
}

export interface Strip {
  readonly name: string
  /** Colours from the left end to the right. */
  readonly colors: readonly string[]
}

/** Bands of colour under one axis, one a strip. */
export function colorStrips(x: Axis, strips: readonly Strip[]): string {
  const size = 40
  const whole = top + strips.length * (size + 8) + bottom
  const atX = (v: number) => left + ((v - x.from) / (x.to - x.from)) * plotWidth
  const rows = strips.map(({ name, colors }, i) => {
    const y = top + i * (size + 8)
    const w = plotWidth / colors.length
    return `${colors
      .map(
        (c, k) =>
          `<rect x="${(left + k * w).toFixed(2)}" y="${y}" width="${(w + 0.5).toFixed(2)}" height="${size}" fill="${c}"/>`,
      )
      .join('')}<text x="${left + plotWidth + 12}" y="${y + size / 2 + 4}">${escaped(name)}</text>`
  })
  const foot = top + strips.length * (size + 8)
  const marks = ticks(x).map(v => `<text x="${atX(v)}" y="${foot + 14}" text-anchor="middle">${v}</text>`)
  return framed(whole, [
    ...rows,
    ...marks,
    `<text x="${left + plotWidth / 2}" y="${foot + 34}" text-anchor="middle">${escaped(x.label)}</text>`,
  ])
}

function ticks({ from, to, step }: Axis): number[] {
  return Array.from({ length: Math.floor((to - from) / step + 1e-9) + 1 }, (_, i) =>
    Number((from + i * step).toPrecision(6)),
  )
}

function titles(x: string, y: string): string[] {
  return [
    `<text x="${left + plotWidth / 2}" y="${height - 8}" text-anchor="middle">${escaped(x)}</text>`,
    `<text transform="translate(16 ${top + plotHeight / 2}) rotate(-90)" text-anchor="middle">${escaped(y)}</text>`,
  ]
}

function framed(tall: number, parts: readonly string[]): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${tall}" width="${width}" height="${tall}">${parts.join('\n')}</svg>`
}
