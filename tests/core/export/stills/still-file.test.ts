import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { FloatType } from 'three'
import { EXRLoader } from 'three/addons/loaders/EXRLoader.js'
import { describe, expect, test } from 'vitest'
import { decodePng } from '../../../../core/base/png.ts'
import { displayProfile } from '../../../../core/color/icc-write.ts'
import { samplesOf, stillFile } from '../../../../core/export/stills/still-file.ts'
import type { StillFormat } from '../../../../core/export/stills/wish.ts'
import { displayPicture } from '../../../../core/reference/display-picture.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'
import { hasTool } from '../../../support/tools.ts'

const [width, height] = [16, 12]
const at = { azimuthDeg: 60, elevationDeg: 60, distanceMm: 500, diameterMm: 10 }
const plain = sceneFor(oneLamp(at))
const scenes = {
  srgb: plain,
  'display-p3': { ...plain, view: { ...plain.view, gamut: 'display-p3' as const } },
}
const light = Float32Array.from({ length: 4 * width * height }, (_, i) =>
  i % 4 === 3 ? ((i >> 2) % 5) / 4 : ((i * 37) % 97) / 60,
)
const words = { description: 'Comet: worst glare', software: 'rakelight 1' }
const fileOf = (format: StillFormat, gamut: keyof typeof scenes = 'srgb') =>
  stillFile(samplesOf(light, scenes[gamut], { width, height }, format), scenes[gamut], format, words)

describe('a still as a file', () => {
  test.each([8, 16] as const)('PNG of %i bits holds what the screen shows', depth => {
    expect(decodePng(fileOf({ kind: 'png', depth })).data).toEqual(displayPicture(light, plain, depth))
  })

  test('the same still gives the same bytes', () => {
    for (const format of [
      { kind: 'png', depth: 16 },
      { kind: 'tiff', depth: 8 },
      { kind: 'exr', depth: 16 },
    ] as const)
      expect(fileOf(format)).toEqual(fileOf(format))
  })

  // ImageMagick takes the profile out by its own reader.
  const cases = (['png', 'tiff'] as const).flatMap(kind =>
    ([8, 16] as const).flatMap(depth =>
      (['srgb', 'display-p3'] as const).map(gamut => [kind, depth, gamut] as const),
    ),
  )
  test.skipIf(!hasTool('convert', '-version')).each(cases)(
    'ImageMagick finds profile, size and samples: %s, %i bits, %s',
    (kind, depth, gamut) => {
      const folder = mkdtempSync(join(tmpdir(), 'still-'))
      try {
        const [path, icc, raw] = [join(folder, `a.${kind}`), join(folder, 'a.icc'), join(folder, 'a.rgb')]
        writeFileSync(path, fileOf({ kind, depth }, gamut))
        execFileSync('convert', [path, icc])
        expect(new Uint8Array(readFileSync(icc))).toEqual(displayProfile(gamut))
        execFileSync('convert', [path, '-depth', String(depth), '-endian', 'LSB', `rgb:${raw}`])
        const shown = displayPicture(light, scenes[gamut], depth)
        expect(new Uint8Array(readFileSync(raw))).toEqual(new Uint8Array(shown.buffer))
        const said = execFileSync('identify', ['-units', 'PixelsPerInch', '-format', '%w %h %x', path], {
          encoding: 'utf8',
        })
        const [w, h, ppi] = said.split(' ').map(Number)
        expect([w, h]).toEqual([width, height])
        expect(ppi).toBeCloseTo(300, 1)
      } finally {
        rmSync(folder, { recursive: true })
      }
    },
  )

  // Light of the picture by three’s reader; the matrix is that of IEC 61966-2-1 as printed there to four digits.
  test('EXR holds linear light by the primaries of sRGB, met part as alpha', () => {
    const loader = new EXRLoader()
    loader.setDataType(FloatType)
    const { data } = loader.parse(fileOf({ kind: 'exr', depth: 32 }).buffer) as { data: Float32Array }
    const matrix = [3.2406, -1.5372, -0.4986, -0.9689, 1.8758, 0.0415, 0.0557, -0.204, 1.057]
    for (let i = 0; i < width * height; i++) {
      const from = 4 * i
      const to = 4 * ((height - 1 - Math.floor(i / width)) * width + (i % width))
      const met = light[from + 3]!
      expect(data[to + 3]).toBe(met)
      for (let c = 0; c < 3; c++) {
        const value =
          met *
          (matrix[3 * c]! * light[from]! +
            matrix[3 * c + 1]! * light[from + 1]! +
            matrix[3 * c + 2]! * light[from + 2]!)
        expect(Math.abs(data[to + c]! - value)).toBeLessThan(2e-3)
      }
    }
  })
})
