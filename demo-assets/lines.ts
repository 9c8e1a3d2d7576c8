import type { MarkedArea } from '../core/checks/marked.ts'
import { type Line, outlines } from './lettering.ts'

/** Print on the panel that is to be read: who made it, what it is, how large. */
export const titleLines: readonly Line[] = [
  { text: 'HALDEN', face: 'light', size: 8.4, at: [7.5, 134.8], tracking: 0.16 },
  { text: 'OBSERVATORY SUPPLY', face: 'small', size: 2.82, at: [8, 130.1], tracking: 0.235 },
  { text: 'Eyepiece', face: 'serif', size: 10.8, at: [7.7, 20.6] },
  { text: '12 mm', face: 'light', size: 10.2, at: [93.4, 20.6], align: 'end', tracking: -0.02 },
]

/** The small print at the foot. */
export const detailLines: readonly Line[] = [
  ['Six elements in four groups', 14.9] as const,
  ['Fully coated · apparent field 62°', 11.2] as const,
  ['Eye relief 18 mm · barrel 1¼ inch', 7.5] as const,
].map(([text, y]): Line => ({ text, face: 'small', size: 2.6, at: [8, y], tracking: 0.04 }))

/** Around the letters of a mark, mm. */
const margin = 0.6

/** The lines as areas of type: in the art they are pixels among others. */
export const typeMarks: readonly MarkedArea[] = [
  ...titleLines.map(line => marked(line.text, [line])),
  marked('Small print', detailLines),
]

function marked(name: string, lines: readonly Line[]): MarkedArea {
  const at = lines.flatMap(outlines).flatMap(({ knots }) => knots.map(knot => knot.at))
  const end = (pick: typeof Math.min, axis: 0 | 1) => pick(...at.map(point => point[axis]))
  // To a tenth of a millimetre: a job is read by people.
  const tenths = (mm: number) => Math.round(10 * mm) / 10
  const box = {
    leftMm: tenths(end(Math.min, 0) - margin),
    bottomMm: tenths(end(Math.min, 1) - margin),
    rightMm: tenths(end(Math.max, 0) + margin),
    topMm: tenths(end(Math.max, 1) + margin),
  }
  return { name, kind: 'text', shape: { kind: 'box', box } }
}
