import { retailModuleMm } from './bars.ts'
import type { DrawnSymbol } from './drawn-symbol.ts'
import { type RetailKind, retailShape } from './retail.ts'
import type { InkTile } from './tile.ts'
import type { LimitOf, Told } from './told.ts'

/** Bars are known no better than the art has them. */
export function sourceFindings({ from, ppi }: InkTile): readonly Told[] {
  if (from === 'outlines' || ppi >= 1199) return []
  return [
    {
      severity: 'note',
      code: 'code-from-pixels',
      message:
        from === 'map'
          ? `there is no art to read its bars from, so they come from the material map, ${Math.round(ppi)} pixels an inch`
          : `its bars are pixels of the art, ${Math.round(ppi)} an inch; edges are known no better than that`,
      fix: 'Place the code as outlines, or at 1200 pixels an inch or more.',
      measured: { value: Math.round(ppi), unit: 'ppi' },
    },
  ]
}

/** Outlines are drawn to a thousandth of a millimetre or so. */
const drawnTo = 0.001

/** Module and height of a retail code; other codes have no size of their own. */
export function sizeFindings({ kind, moduleMm, frame }: DrawnSymbol, limits: LimitOf): readonly Told[] {
  const shape = kind in retailShape ? retailShape[kind as RetailKind] : null
  if (shape === null) return []
  const magnification = moduleMm / retailModuleMm.nominal
  const percent = Math.round(100 * magnification)
  const found: Told[] = []
  const [least, most] = [limits('codes.module-least'), limits('codes.module-most')]
  const small = moduleMm < least.value - drawnTo
  if (small || moduleMm > most.value + drawnTo)
    found.push({
      severity: small ? 'error' : 'warning',
      code: 'code-size',
      message: `its narrowest bar is ${moduleMm.toFixed(3)} mm, ${percent} % of nominal; retail codes go from ${least.value} to ${most.value} mm`,
      fix: `Make it ${small ? 'larger' : 'smaller'}, as one with its light margins.`,
      measured: { value: moduleMm, unit: 'mm' },
      limit: small ? least : most,
    })
  const part = frame.heightMm / (shape.heightMm * magnification)
  const limit = limits('codes.height')
  if (part < limit.value)
    found.push({
      severity: 'note',
      code: 'code-height',
      message: `its bars are ${frame.heightMm.toFixed(1)} mm high where ${(shape.heightMm * magnification).toFixed(1)} mm belong to its width; short bars are missed by readers that see from all sides`,
      fix: 'Give the bars their full height where the panel allows it.',
      measured: { value: part, unit: '' },
      limit,
    })
  return found
}
