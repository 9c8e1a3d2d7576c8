import { chance } from './chance.ts'
import type { EffectField, EffectFrame, EffectWarning, GratingField, OpenField } from './effect.ts'
import type { Register } from './register.ts'

const degree = Math.PI / 180

/**
 * A field whose master does not keep its place to the print: along the web it repeats, with a seam between repeats,
 * and each sheet has another place and phase. The sheet's number decides both; 0 lies as designed, its repeat around
 * the middle of the area. Where the area lies stays: that is the print's doing.
 * Views keep their design for the eye in the middle of the repeat that lies nearest to the area's own.
 */
export function floating(
  field: EffectField,
  register: Extract<Register, { readonly mode: 'continuous' }>,
  frame: EffectFrame,
): EffectField {
  const move = mover(register, frame)
  const reads = (one: OpenField) => one.kind === 'grating' && one.readsArt
  const warnings = field.kind !== 'pictures' && reads(field) ? [readsDrawing] : []
  if (field.kind !== 'pictures') return moved(field, move, warnings)
  return { ...field, open: pictures => moved(field.open(pictures), move, []) }
}

/** Where the master has what lies at a place; null on a seam. The pair is written over by the next call. */
type Move = (xMm: number, yMm: number) => readonly [xMm: number, yMm: number] | null

function mover(
  { repeatMm, seamMm, directionDeg, sheet }: Extract<Register, { readonly mode: 'continuous' }>,
  { centerXMm, centerYMm }: EffectFrame,
): Move {
  const [ux, uy] = [Math.cos(directionDeg * degree), Math.sin(directionDeg * degree)]
  const along = sheet === 0 ? 0 : repeatMm * (chance(sheet, 0, 0, 0) - 0.5)
  const aside = sheet === 0 ? 0 : repeatMm * (chance(sheet, 0, 0, 1) - 0.5)
  const at: [number, number] = [0, 0]
  return (x, y) => {
    const u = (x - centerXMm) * ux + (y - centerYMm) * uy - along
    const v = (y - centerYMm) * ux - (x - centerXMm) * uy - aside
    const within = u - repeatMm * Math.round(u / repeatMm)
    if (Math.abs(within) > (repeatMm - seamMm) / 2) return null
    at[0] = centerXMm + within * ux - v * uy
    at[1] = centerYMm + within * uy + v * ux
    return at
  }
}

function moved(field: OpenField, move: Move, warnings: readonly EffectWarning[]): OpenField {
  const said = [...(field.warnings ?? []), ...warnings]
  switch (field.kind) {
    case 'grating':
      return { ...movedGrating(field, move), warnings: said }
    case 'beside':
      return { ...field, warnings: said, parts: field.parts.map(part => movedGrating(part, move)) }
    case 'views':
      return {
        ...field,
        warnings: said,
        // A repeat may show it anywhere.
        place: field.place && everywhere,
        at: (x: number, y: number, out: Float64Array) => {
          const there = move(x, y)
          return there === null ? out.fill(0) : field.at(there[0], there[1], out)
        },
      }
  }
}

function movedGrating(field: GratingField, move: Move): GratingField {
  return {
    ...field,
    at: (x, y, tone, out) => {
      const there = move(x, y)
      field.at(there?.[0] ?? x, there?.[1] ?? y, tone, out)
      if (there === null) out.share = 0
      return out
    },
  }
}

const everywhere = { leftMm: -1e5, bottomMm: -1e5, widthMm: 2e5, heightMm: 2e5 } as const

const readsDrawing: EffectWarning = {
  code: 'drawing-in-register',
  message: 'it is read from the drawing, which lies in register; only the seams move',
  fix: 'Choose registered holography, or a kind that is not read from the drawing.',
}
