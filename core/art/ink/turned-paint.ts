import { type Blending, type InkField, type Mark, type Paint, processCount, type Tiling } from './mark.ts'

/** A paint of a group that blends in colours of its own, in those of what lies around it. The same paint stays one. */
export function turnedPaint(paint: Paint, blending: Blending): Paint {
  const before = turned.get(paint)
  if (before !== undefined) return before
  const made = turn(paint, blending)
  turned.set(paint, made)
  return made
}

/** What a paint is made of is made for the one group that it lies in. */
const turned = new WeakMap<Paint, Paint>()

function turn(paint: Paint, blending: Blending): Paint {
  switch (paint.kind) {
    case 'tints': {
      const { inks, places, count } = layout(paint.inks, blending)
      if (count === 0) return paint
      const own = rows(processCount[blending.own], 1)
      for (const [at, ink] of paint.inks.entries()) if (places[at] === -1) own[ink]![0] = paint.values[at]!
      const out = rows(count, 1)
      blending.outward(own, 0, 1, out)
      const spots = paint.values.filter((_, at) => places[at] !== -1)
      return { kind: 'tints', inks, values: [...out.map(row => row[0]!), ...spots] }
    }
    case 'field':
      return { kind: 'field', field: turnedField(paint.field, blending) }
    case 'tiling':
      return { kind: 'tiling', tiling: turnedTiling(paint.tiling, blending) }
  }
}

/** Inks of a turned paint, and where each of the old ones lies in it; -1: it is a process colour. */
function layout(inks: readonly number[], { own, outer }: Blending) {
  const isProcess = (ink: number) => ink < processCount[own]
  const count = inks.some(isProcess) ? processCount[outer] : 0
  const spots = inks.filter(ink => !isProcess(ink))
  return {
    count,
    inks: [...Array.from({ length: count }, (_, ink) => ink), ...spots],
    places: inks.map(ink => (isProcess(ink) ? -1 : count + spots.indexOf(ink))),
  }
}

function turnedField(field: InkField, blending: Blending): InkField {
  const { inks, places, count } = layout(field.inks, blending)
  if (count === 0) return field
  return {
    inks,
    row: (x, y, step, length, out, shape) => {
      const own = rows(processCount[blending.own], length)
      const into = field.inks.map((ink, at) => (places[at] === -1 ? own[ink]! : out[places[at]!]!))
      field.row(x, y, step, length, into, shape)
      blending.outward(own, 0, length, out.slice(0, count))
    },
  }
}

const turnedTiling = (tiling: Tiling, blending: Blending): Tiling => ({
  ...tiling,
  marks: turnedMarks(tiling.marks, blending),
})

const turnedMarks = (marks: readonly Mark[], blending: Blending): readonly Mark[] =>
  marks.map((mark): Mark => {
    if (mark.kind !== 'group') return { ...mark, paint: turnedPaint(mark.paint, blending) }
    const { blending: own, ...group } = mark
    return { ...group, marks: turnedMarks(own ? turnedMarks(mark.marks, own) : mark.marks, blending) }
  })

const rows = (count: number, length: number): Float32Array[] =>
  Array.from({ length: count }, () => new Float32Array(length))
