import type { FillMark, Mark, Paint, Path } from '../../core/art/ink/mark.ts'
import { pathStep } from '../../core/art/ink/mark.ts'
import { circle, fill, path, rect, stroke, tints } from './ink-page.ts'

/** A page of many plain objects: rectangles, rings of curves, triangles and lines, over one another. */
export interface ManyObjects {
  readonly widthMm: number
  readonly heightMm: number
  /** Process inks first. */
  readonly inks: readonly string[]
  readonly marks: readonly Mark[]
}

const spots = ['White', 'Foil', 'Varnish']
const point = 25.4 / 72

/**
 * Objects of 2 to 70 mm, small ones more often, by a seeded chance; half of them overprint, two fifths are in a spot ink.
 * On a page of 600 × 400 mm they cover it some dozen times over.
 */
export function manyObjects(count: number): ManyObjects {
  let seed = 7
  const chance = () => {
    seed = (seed * 1664525 + 1013904223) >>> 0
    return seed / 2 ** 32
  }
  const [widthMm, heightMm] = [1700 * point, 1132.8 * point]
  const marks = Array.from({ length: count }, (): Mark => {
    const [x, y, r] = [chance() * widthMm, chance() * heightMm, 2 + chance() ** 3 * 68]
    const kind = Math.floor(chance() * 5)
    const overprint = chance() < 0.5
    const paint =
      kind < 2
        ? tints({ [4 + Math.floor(chance() * spots.length)]: chance() })
        : tints({ 0: chance(), 1: chance(), 2: chance(), 3: chance() })
    if (kind === 0) return fill(rect(x, y, x + r, y + 0.7 * r), paint, { overprint })
    if (kind === 1) return fill(circle(x, y, r), paint, { overprint })
    if (kind === 2) {
      const corners = `m ${x} ${y} l ${x + r} ${y + 0.3 * r} l ${x + 0.2 * r} ${y + r} z`
      return fill(path(corners), paint, { overprint })
    }
    if (kind === 3) return fill(rect(x, y, x + r, y + r), paint, { overprint })
    return stroke(
      path(`m ${x} ${y} l ${x + 3 * r} ${y + r}`),
      { width: 0.3 + 2 * chance() },
      { paint, overprint },
    )
  })
  return { widthMm, heightMm, inks: ['Cyan', 'Magenta', 'Yellow', 'Black', ...spots], marks }
}

/** The same page as PDF. */
export function manyObjectsPdf({ widthMm, heightMm, inks, marks }: ManyObjects): Uint8Array {
  const content = ['q', `${1 / point} 0 0 ${1 / point} 0 0 cm`, ...marks.map(markAsPdf), 'Q'].join('\n')
  const spaces = inks
    .map(
      (ink, k) =>
        `/I${k} [/Separation /${ink} /DeviceCMYK << /FunctionType 2 /Domain [0 1] /N 1 /C0 [0 0 0 0] /C1 [0.${k} 0 0 0.2] >>]`,
    )
    .slice(4)
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${widthMm / point} ${heightMm / point}] /Contents 4 0 R
     /Resources << /ColorSpace << ${spaces.join(' ')} >> /ExtGState << /Over << /OP true /op true /OPM 0 >> /Out << /OP false /op false >> >> >> >>`,
    `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
  ]
  let file = '%PDF-1.6\n'
  const places = objects.map((object, i) => {
    const at = file.length
    file += `${i + 1} 0 obj\n${object}\nendobj\n`
    return at
  })
  const table = file.length
  file += `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n`
  for (const at of places) file += `${String(at).padStart(10, '0')} 00000 n \n`
  file += `trailer << /Size ${objects.length + 1} /Root 1 0 R >>\nstartxref\n${table}\n%%EOF\n`
  return new TextEncoder().encode(file)
}

function markAsPdf(mark: Mark): string {
  if (mark.kind === 'group') throw new Error('no groups here')
  const state = mark.overprint ? '/Over gs' : '/Out gs'
  const color = colorAsPdf(mark.paint, mark.kind === 'stroke')
  const paths = pathAsPdf(mark.path)
  return mark.kind === 'stroke'
    ? `${state} ${color} ${mark.style.width} w ${paths} S`
    : `${state} ${color} ${paths} ${(mark satisfies FillMark).rule === 'nonzero' ? 'f' : 'f*'}`
}

function colorAsPdf(paint: Paint, isStroke: boolean): string {
  if (paint.kind !== 'tints') throw new Error('only tints here')
  const [ink] = paint.inks
  const spot = isStroke ? 'CS' : 'cs'
  if (ink !== undefined && ink >= 4) return `/I${ink} ${spot} ${paint.values[0]} ${isStroke ? 'SCN' : 'scn'}`
  return `${paint.values.join(' ')} ${isStroke ? 'K' : 'k'}`
}

function pathAsPdf({ steps, points }: Path): string {
  let at = 0
  const take = (count: number) => {
    at += count
    return points.subarray(at - count, at).join(' ')
  }
  const words = Array.from(steps, step => {
    if (step === pathStep.move) return `${take(2)} m`
    if (step === pathStep.line) return `${take(2)} l`
    return step === pathStep.curve ? `${take(6)} c` : 'h'
  })
  return words.join(' ')
}
