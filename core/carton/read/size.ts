import { unitMm } from '../../art/svg/length.ts'
import type { DieFinding } from './drawing.ts'
import { mm } from './words.ts'

/** Sizes of a blank beyond which its scale is doubted, mm: a lipstick's and a large case's. Our own choice. */
export const plausibleMm = { least: 20, most: 2000 } as const

/** Mistakes of units: what the numbers are, what they were taken for, and the factor that sets them right. */
const mistakes = (['pt', 'px', 'in', 'cm', 'mm'] as const).flatMap(meant =>
  (['mm', 'px', 'pt', 'in', 'cm'] as const).flatMap(taken =>
    meant === taken ? [] : [{ meant, taken, factor: unitMm[meant] / unitMm[taken] }],
  ),
)

/** What a size says about the scale of the drawing. */
export function scaleFindings(widthMm: number, heightMm: number): readonly DieFinding[] {
  const largest = Math.max(widthMm, heightMm)
  const small = largest < plausibleMm.least
  if (!small && largest <= plausibleMm.most) return []
  // Cartons are mostly a hand to an arm long: the mistake that would give such a size is the likely one.
  const likely = mistakes
    .map(one => ({ ...one, size: largest * one.factor }))
    .filter(({ size }) => size >= 60 && size <= 1200)
    .sort((a, b) => Math.abs(Math.log(a.size / 300)) - Math.abs(Math.log(b.size / 300)))
  const seen = new Set<string>()
  const said = likely
    .filter(({ factor }) => {
      const key = factor.toPrecision(6)
      return !seen.has(key) && seen.add(key) !== undefined
    })
    .slice(0, 3)
    .map(
      ({ meant, taken, factor }) =>
        `${meant} taken for ${taken} (× ${Number(factor.toPrecision(4))}: ${mm(widthMm * factor)} × ${mm(heightMm * factor)})`,
    )
  return [
    {
      severity: 'error',
      code: 'scale-wrong',
      where: 'the drawing',
      at: null,
      message: `the blank measures ${mm(widthMm)} × ${mm(heightMm)}, which is too ${small ? 'small' : 'large'} for a carton${said.length > 0 ? `; likely ${said.join(', or ')}` : ''}`,
      fix: 'Say what one unit of the drawing is (mm, cm, in, pt or px), or save it at full size.',
    },
  ]
}

/**
 * Widths of a glue flap, mm: what plants take, and beyond what the scale is doubted though the blank could be a
 * carton's. Common practice, no source: 11.5 to 19 mm.
 */
const usualFlap = { least: 10, most: 20 } as const
const plausibleFlap = { least: 6, most: 34 } as const

/** What the glue flap says about the scale of a drawing whose blank alone could be a carton's: it hardly grows with the carton. */
export function flapFindings(flapMm: number, widthMm: number, heightMm: number): readonly DieFinding[] {
  const narrow = flapMm < plausibleFlap.least
  if (!narrow && flapMm <= plausibleFlap.most) return []
  const likely = mistakes
    .filter(({ meant, taken, factor }) => {
      const [flap, largest] = [flapMm * factor, Math.max(widthMm, heightMm) * factor]
      return (
        [meant, taken].every(unit => drawingUnits.includes(unit)) &&
        flap >= usualFlap.least &&
        flap <= usualFlap.most &&
        largest >= plausibleMm.least &&
        largest <= plausibleMm.most
      )
    })
    .map(
      ({ meant, taken, factor }) =>
        `${meant} taken for ${taken} (× ${Number(factor.toPrecision(4))}: ${mm(flapMm * factor)}, and a blank of ${mm(widthMm * factor)} × ${mm(heightMm * factor)})`,
    )
  if (likely.length === 0) return []
  return [
    {
      severity: 'warning',
      code: 'scale-doubted',
      where: 'glue flap',
      at: null,
      message: `it is ${mm(flapMm)} wide, much ${narrow ? 'less' : 'more'} than usual; maybe ${likely.join(', or ')}`,
      fix: 'Check a length of the die. If it is wrong, say what one unit of the drawing is, or save it at full size.',
    },
  ]
}

/** What drawing programs count in. */
const drawingUnits: readonly string[] = ['pt', 'px', 'mm']

/** How much art and die may differ and still be one size, mm. */
const sameMm = 1

/**
 * Whether art fits the die.
 * @param die  size of the box around the cut, mm
 * @param art  size of the art, mm
 * @param bleedMm  how far art should reach over the cut on each side
 */
export function artSizeFindings(
  die: { readonly widthMm: number; readonly heightMm: number },
  art: { readonly widthMm: number; readonly heightMm: number },
  bleedMm = 3,
): readonly DieFinding[] {
  const sizes = `${mm(art.widthMm)} × ${mm(art.heightMm)} on a die of ${mm(die.widthMm)} × ${mm(die.heightMm)}`
  const finding = (
    severity: DieFinding['severity'],
    code: string,
    message: string,
    fix: string,
  ): readonly DieFinding[] => [{ severity, code, where: 'art and die', at: null, message, fix }]
  const over = [art.widthMm - die.widthMm, art.heightMm - die.heightMm] as const
  const fitsFlat = over.every(extra => extra >= -sameMm && extra <= 2 * bleedMm + sameMm)
  if (fitsFlat) return []
  const turned = [art.heightMm - die.widthMm, art.widthMm - die.heightMm]
  if (turned.every(extra => extra >= -sameMm && extra <= 2 * bleedMm + sameMm))
    return finding(
      'warning',
      'art-turned',
      `the art lies across the die: ${sizes}`,
      'Turn the art or the die by 90°.',
    )
  const ratio = [art.widthMm / die.widthMm, art.heightMm / die.heightMm] as const
  const wrong = mistakes.find(({ factor }) => ratio.every(one => Math.abs(one / factor - 1) < 0.03))
  if (wrong !== undefined && Math.abs(wrong.factor - 1) > 0.1)
    return finding(
      'warning',
      'art-other-unit',
      `art and die differ as ${wrong.meant} and ${wrong.taken} do: ${sizes}`,
      `Scale the die by ${Number(wrong.factor.toPrecision(4))}, or say what one unit of its drawing is.`,
    )
  if (over.some(extra => extra > 2 * bleedMm + sameMm))
    return finding(
      'warning',
      'art-larger-than-die',
      `the art is larger than the die and its bleed: ${sizes}`,
      'Place the art so that what belongs to the carton lies on the die; the rest is cut off.',
    )
  return finding(
    'warning',
    'art-smaller-than-die',
    `the art does not cover the die: ${sizes}`,
    'Place the art where it belongs, or enlarge it to the cut and its bleed.',
  )
}
