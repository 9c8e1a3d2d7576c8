import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { blendModeOfKey, componentBlend, filledBlend, separable } from '../../../core/art/blend.ts'
import { colorBlend, type Rgb, whole } from '../../../core/art/blend-color.ts'
import { composite, type Surface } from '../../../core/art/composite.ts'
import type { ArtFile, Layer } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'

const unit = fc.double({ min: 0, max: 1, noNaN: true })
const color = fc.tuple(unit, unit, unit)

describe('separable modes', () => {
  it('covers, with the whole-colour modes, every key but pass-through, normal and dissolve', () => {
    const left = Object.values(blendModeOfKey).filter(mode => !componentBlend(mode) && !colorBlend(mode))
    expect(left).toEqual(['passThrough', 'normal', 'dissolve'])
  })

  it('stays in range', () => {
    fc.assert(
      fc.property(unit, unit, (b, s) => {
        for (const blend of Object.values(separable)) {
          expect(blend(b, s)).toBeGreaterThanOrEqual(-1e-12)
          expect(blend(b, s)).toBeLessThanOrEqual(1 + 1e-12)
        }
      }),
    )
  })

  // Multiply and screen commute, screen is multiply of complements, overlay is hard light with the sides swapped:
  // W3C Compositing and Blending Level 1, sections 9.1.2 to 9.1.4 and 9.1.9.
  it('keeps the identities that the definition states', () => {
    fc.assert(
      fc.property(unit, unit, (b, s) => {
        expect(separable.screen(b, s)).toBeCloseTo(1 - separable.multiply(1 - b, 1 - s), 12)
        expect(separable.overlay(b, s)).toBe(separable.hardLight(s, b))
        expect(separable.exclusion(b, s)).toBeCloseTo(separable.exclusion(s, b), 12)
      }),
    )
  })

  // The same text, section 9.1: what white, black and middle sources do.
  it.each([
    ['multiply', 0.3, 1, 0.3],
    ['multiply', 0.3, 0, 0],
    ['screen', 0.3, 0, 0.3],
    ['screen', 0.3, 1, 1],
    ['colorDodge', 0, 1, 0],
    ['colorDodge', 0.3, 0, 0.3],
    ['colorBurn', 1, 0, 1],
    ['colorBurn', 0.3, 1, 0.3],
    ['hardLight', 0.3, 0.5, 0.3],
    ['softLight', 0.3, 0.5, 0.3],
    ['softLight', 0.16, 1, ((16 * 0.16 - 12) * 0.16 + 4) * 0.16],
    ['softLight', 0.49, 1, 0.7],
    ['difference', 0.3, 1, 0.7],
    ['exclusion', 0.3, 1, 0.7],
  ] as const)('%s of %f under %f is %f', (mode, b, s, expected) => {
    expect(separable[mode](b, s)).toBeCloseTo(expected, 12)
  })

  it('fades to the backdrop as fill opacity goes to nothing', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), unit, (b, s) => {
        for (const mode of Object.values(blendModeOfKey)) {
          const blend = filledBlend(mode, 1e-9)
          if (blend) expect(blend(b, s)).toBeCloseTo(b, 6)
        }
      }),
    )
  })
})

describe('whole-colour modes', () => {
  const lum = (c: readonly [number, number, number]) => 0.3 * c[0] + 0.59 * c[1] + 0.11 * c[2]

  // ISO 32000-2:2020, 11.3.5.3: SetLum keeps the luminosity it is given, ClipColor keeps it and the range.
  it('takes luminosity from the side that the definition names', () => {
    fc.assert(
      fc.property(color, color, (b, s) => {
        const out: Rgb = [0, 0, 0]
        for (const mode of ['hue', 'saturation', 'color'] as const)
          expect(lum(whole[mode](b, s, out))).toBeCloseTo(lum(b), 9)
        expect(lum(whole.luminosity(b, s, out))).toBeCloseTo(lum(s), 9)
        for (const v of out) expect(v >= -1e-9 && v <= 1 + 1e-9).toBe(true)
      }),
    )
  })
})

/**
 * A real CMYK file with two rows of tiles a mode; its flattened picture comes from the program that wrote it.
 * psd-tools tests/psd_files/blend-modes/cmyk-blend-modes.psd (MIT).
 */
describe('against a real CMYK picture', () => {
  let file: ArtFile
  let ours: Surface
  beforeAll(async () => {
    const name = 'psd-tools__blend-modes_cmyk-blend-modes.psd'
    file = await readArt(memorySource(name, readFileSync(`tests/fixtures/art/${name}`)))
    ours = await composite(file)
  })

  // The rainbow in the file is a gradient that its program drew anew with dither: stored samples are off by one
  // level, which the modes with steps turn into whole jumps, and the comparing modes where two colours tie.
  const stepped = new Set([
    'colorBurn',
    'vividLight',
    'hardMix',
    'divide',
    'darkerColor',
    'lighterColor',
    'colorDodge',
  ])

  it.each(Object.values(blendModeOfKey).filter(mode => mode !== 'passThrough' && mode !== 'dissolve'))(
    '%s',
    async mode => {
      const tiles = file.art.layers.filter(tile => tile.kind === 'group' && usesMode(tile, mode))
      expect(tiles.length).toBeGreaterThanOrEqual(1)
      for (const tile of tiles)
        expect(await tilePsnr(tile)).toBeGreaterThanOrEqual(stepped.has(mode) ? 31 : 48)
    },
  )

  function usesMode(tile: Layer, mode: string): boolean {
    const members = file.art.layers.filter(layer => layer.parent === tile.id && layer.kind !== 'group')
    return members.length === 2 && members.at(-1)!.blendMode === mode
  }

  async function tilePsnr({ box }: Layer): Promise<number> {
    let sum = 0
    let count = 0
    for (let p = 0; p < 4; p++) {
      const theirs = (await file.documentPlane(p)).data
      for (let y = Math.max(0, box.top); y < Math.min(file.art.height, box.bottom); y++)
        for (let x = Math.max(0, box.left); x < Math.min(file.art.width, box.right); x++) {
          const i = y * file.art.width + x
          const α = ours.alpha[i]!
          sum += (ours.planes[p]![i]! * α + 1 - α - theirs[i]! / 255) ** 2
          count++
        }
    }
    return -10 * Math.log10(sum / count)
  }
})
