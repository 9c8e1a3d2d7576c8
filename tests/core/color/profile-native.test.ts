import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import type { Lab } from '../../../core/color/lab.ts'
import { openColorEngine } from '../../../core/color/profile.ts'
import { askNative, grid, nativeFile, renderings } from '../../fixtures/color/native.mjs'

const icc = new Uint8Array(
  readFileSync(new URL('../../../core/data/icc/ISOcoated_v2_300_bas.icc', import.meta.url)),
)
const engine = await openColorEngine()

const held = (values: ArrayLike<number>, i: number, scale: number): Lab => [
  values[3 * i]! * scale,
  values[3 * i + 1]! * scale,
  values[3 * i + 2]! * scale,
]

function ours(rendering: (typeof renderings)[number]): Lab[] {
  const transform = engine.transform({ icc }, 'Lab', rendering, 'FOGRA39')
  const v = transform.run(Float32Array.from(grid.flat()))
  const labs = grid.map(
    (_, i): Lab => [v[3 * i]! * 100, v[3 * i + 1]! * 255 - 128, v[3 * i + 2]! * 255 - 128],
  )
  transform.close()
  return labs
}

/** Largest ΔE00 over the grid. */
function worst(labs: readonly Lab[], native: (i: number) => Lab): number {
  let most = 0
  labs.forEach((lab, i) => {
    most = Math.max(most, deltaE2000(lab, native(i)))
  })
  return most
}

describe('the engine and the native one of the same name, 9 × 9 × 9 × 5 inks', () => {
  // Answers of transicc (Little CMS 2.14, Debian liblcms2-utils), kept by the script beside them to 0.01, so the digits
  // alone may differ by 0.009 ΔE*ab; both count in single precision. No eye sees 0.3.
  const bytes = readFileSync(nativeFile)
  const kept = new Int16Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length))

  test.each(renderings.map((rendering, i) => [rendering, i] as const))('%o', (rendering, i) => {
    const first = 3 * grid.length * i
    const native = kept.subarray(first, first + 3 * grid.length)
    expect(native).toHaveLength(10935)
    expect(worst(ours(rendering), at => held(native, at, 0.01))).toBeLessThan(0.05)
  })

  const live = askNative(renderings[0]) !== null
  test.runIf(live).each(renderings)('%o, asked now', rendering => {
    const native = askNative(rendering)!
    expect(worst(ours(rendering), at => held(native, at, 1))).toBeLessThan(0.02)
  })
})
