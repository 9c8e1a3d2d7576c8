import type { BoxMm } from '../finding.ts'
import type { AppliedLimit } from '../limits.ts'
import { registerLimit } from '../register/tolerance.ts'
import { type WhitePatch, whitePatch } from './patch.ts'
import type { CodeGround, Told } from './told.ts'

/** The white under a code, and what it ought to be. */
export interface CodeWhite {
  readonly patch: WhitePatch
  /** How far the code may lie beside white or holography: the larger of the job's two tolerances. */
  readonly register: AppliedLimit
  /** What the white needs beyond symbol, light margins and text, mm. */
  readonly neededMm: number
  /** Width and height of the whole patch, in words. */
  readonly size: string
  /** Some of it has metal that shows. */
  readonly bare: boolean
}

/** Bare metal under less of a code than this is a matter of its margins. */
const bareFrom = 0.02

/** @param core symbol, light margins and text */
export function codeWhite({ input, tables, limits }: CodeGround, core: BoxMm): CodeWhite {
  const register = (['register.holography-colour', 'register.colour-white'] as const)
    .map(key => registerLimit(key, input.limits))
    .reduce((a, b) => (b.value > a.value ? b : a))
  const neededMm = register.value + limits('codes.patch-margin').value
  const patch = whitePatch(input.map, tables, core, neededMm + 1)
  const [width, height] = [core.rightMm - core.leftMm, core.topMm - core.bottomMm]
  const size = `${(width + 2 * neededMm).toFixed(1)} × ${(height + 2 * neededMm).toFixed(1)} mm`
  return { patch, register, neededMm, size, bare: patch.onMetal && patch.without > bareFrom }
}

/** A code that fails because metal shows beneath. @param numbers its grade, in words */
export function onFoilFinding(
  { patch, size }: CodeWhite,
  numbers: string,
  measured: Told['measured'],
  limit: AppliedLimit,
): Told {
  return {
    severity: 'error',
    code: 'code-on-foil',
    message: `${Math.round(100 * patch.without)} % of it has bare or half covered metal beneath: ${numbers}`,
    fix: `Put a full opaque white of ${size} under it: symbol, light margins, text, register and margin.`,
    ...(measured === undefined ? {} : { measured }),
    limit,
  }
}

/** A white that does not go on far enough. */
export function whiteFindings({ patch, register, neededMm, size }: CodeWhite): readonly Told[] {
  if (!patch.onMetal || patch.marginMm >= neededMm - 1e-6) return []
  const { marginMm } = patch
  return [
    {
      severity: marginMm < register.value ? 'error' : 'warning',
      code: 'code-white-short',
      message:
        marginMm < 0
          ? 'the white beneath ends inside symbol, light margins and text'
          : `the white beneath goes on ${marginMm.toFixed(2)} mm beyond symbol, light margins and text, where ${neededMm.toFixed(2)} mm are needed for register`,
      fix: `Make the white ${size}, with the code in its middle.`,
      measured: { value: marginMm, unit: 'mm' },
      limit: register,
    },
  ]
}
