import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { adaptation } from '../../../core/color/adapt.ts'
import { displayProfile } from '../../../core/color/icc-write.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { apply } from '../../../core/color/matrix.ts'
import { openColorEngine } from '../../../core/color/profile.ts'
import { readProfileHeader } from '../../../core/color/profile-header.ts'
import { decode, rgbSpaces } from '../../../core/color/rgb.ts'
import { whiteD50, whiteDisplay } from '../../../core/color/xyz.ts'
import { hasTool } from '../../support/tools.ts'

const engine = await openColorEngine()
const levels = [0, 0.02, 0.1, 0.25, 0.5, 0.75, 1]
const grid = levels.flatMap(r => levels.flatMap(g => levels.map(b => [r, g, b] as const)))
const relative = { intent: 'relative', blackPoint: false } as const

describe('profiles of displays', () => {
  test('they are version 4 profiles of a screen with every tag that the standard asks for', () => {
    const { version, deviceClass, space, connection, tags } = readProfileHeader(
      displayProfile('srgb'),
      'x',
      'y',
    )
    expect([version, deviceClass, space, connection]).toEqual([4, 'mntr', 'RGB ', 'XYZ '])
    // ICC.1:2022, section 8.4.3 (tables 22 and 25) and 8.2.
    for (const tag of ['desc', 'cprt', 'wtpt', 'chad', 'rXYZ', 'gXYZ', 'bXYZ', 'rTRC', 'gTRC', 'bTRC'])
      expect(tags).toContain(tag)
  })

  test('Little CMS has the same sRGB of its own, to 1 in 255', () => {
    const icc = displayProfile('srgb')
    expect(engine.inspect(icc, 'x')).toEqual({ name: 'sRGB', space: 'RGB' })
    const transform = engine.transform({ icc }, 'sRGB', relative, 'x')
    const out = transform.run(Float32Array.from(grid.flat()))
    for (const [i, value] of grid.flat().entries()) expect(Math.abs(out[i]! - value)).toBeLessThan(0.5 / 255)
    transform.close()
  })

  // Display P3 by its primaries (SMPTE RP 431-2), D65 and the sRGB curve, adapted by Bradford: colours to 0.05 ΔE*ab.
  test.each(['srgb', 'display-p3'] as const)('Little CMS takes %s to the Lab of its primaries', gamut => {
    const transform = engine.transform({ icc: displayProfile(gamut) }, 'Lab', relative, 'x')
    const out = transform.run(Float32Array.from(grid.flat()))
    const toD50 = adaptation(whiteDisplay, whiteD50)
    for (const [i, [r, g, b]] of grid.entries()) {
      const xyz = apply(toD50, apply(rgbSpaces[gamut].toXyz, [decode(r), decode(g), decode(b)]))
      const [L, a, bb] = xyzToLab(xyz, whiteD50)
      const off = Math.hypot(
        out[3 * i]! * 100 - L,
        out[3 * i + 1]! * 255 - 128 - a,
        out[3 * i + 2]! * 255 - 128 - bb,
      )
      expect(off).toBeLessThan(0.05)
    }
    transform.close()
  })

  test.skipIf(!hasTool('transicc', '-h'))('the native engine reads the file and keeps grey grey', () => {
    const folder = mkdtempSync(join(tmpdir(), 'icc-'))
    try {
      const path = join(folder, 'p3.icc')
      writeFileSync(path, displayProfile('display-p3'))
      const said = execFileSync('transicc', ['-n', '-t1', `-i${path}`, '-o*Lab4'], {
        input: '255 255 255\n255 0 0\n',
        encoding: 'utf8',
      })
      const [white, red] = said
        .trim()
        .split('\n')
        .slice(-2)
        .map(line => line.trim().split(/\s+/).map(Number))
      expect(white![0]).toBeCloseTo(100, 1)
      expect(Math.hypot(white![1]!, white![2]!)).toBeLessThan(0.05)
      // Red of Display P3 in Lab D50 is redder than that of sRGB (54.3, 80.8, 69.9).
      expect(Math.hypot(red![1]!, red![2]!)).toBeGreaterThan(Math.hypot(80.8, 69.9))
    } finally {
      rmSync(folder, { recursive: true })
    }
  })
})
