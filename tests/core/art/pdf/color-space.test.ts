import { describe, expect, it } from 'vitest'
import { openColorSpace } from '../../../../core/art/pdf/color-space.ts'
import { mostInks } from '../../../../core/art/pdf/ink-set.ts'
import type { Reading } from '../../../../core/art/pdf/reading.ts'
import { makeSeparator } from '../../../../core/art/pdf/separate.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { displayProfile } from '../../../../core/color/icc-write.ts'
import { forPictures, openColorEngine } from '../../../../core/color/profile.ts'
import { readingOf, shippedCondition } from '../../../support/pdf-reading.ts'
import type { PdfText } from '../../../support/pdf-write.ts'

async function opened(write: (pdf: PdfText) => string, aim: Reading['aim'] = 'inks') {
  const reading = await readingOf(pdf => `/S ${write(pdf)}`, aim)
  const space = openColorSpace(reading, reading.object('S'), reading.resources)
  return { reading, space }
}
/** Amounts of the named inks, in thousandths. */
const amounts = ({ reading, space }: Awaited<ReturnType<typeof opened>>, ...values: number[]) => {
  const tints = space.tints(values)
  return Object.fromEntries(
    space.inks.map((ink, i) => [reading.inks.list[ink]!.name, Math.round(tints[i]! * 1000) / 1000]),
  )
}
const tint = (to: readonly number[]) =>
  `<< /FunctionType 2 /Domain [0 1] /C0 [${to.map(() => 0).join(' ')}] /C1 [${to.join(' ')}] /N 1 >>`
const white = `[/Separation /White /DeviceCMYK ${tint([0, 0, 0, 0.1])}]`
const engine = await openColorEngine()
const separated = (from: Parameters<typeof engine.transform>[0], values: readonly number[]) => {
  const transform = engine.transform(from, { icc: shippedCondition }, forPictures, 'test')
  const out = Array.from(transform.run(Float32Array.from(values)), v => Math.round(v * 1000) / 1000)
  transform.close()
  return { Cyan: out[0], Magenta: out[1], Yellow: out[2], Black: out[3] }
}

describe('colours of the device', () => {
  it('takes CMYK as it is and clips it', async () => {
    const space = await opened(() => '/DeviceCMYK')
    expect(amounts(space, 0.25, -1, 2, 0.5)).toEqual({ Cyan: 0.25, Magenta: 0, Yellow: 1, Black: 0.5 })
    expect(space.space.family).toBe('DeviceCMYK')
    expect(space.space.initial).toEqual([0, 0, 0, 1])
  })

  it('prints grey with black alone', async () => {
    // ISO 32000-2, 10.4.2.
    expect(amounts(await opened(() => '/DeviceGray'), 0.25)).toEqual({
      Cyan: 0,
      Magenta: 0,
      Yellow: 0,
      Black: 0.75,
    })
  })

  it('takes RGB without a profile for sRGB, and says so once', async () => {
    const rgb = await opened(() => '/DeviceRGB')
    expect(amounts(rgb, 1, 0.5, 0)).toEqual(separated('sRGB', [1, 0.5, 0]))
    amounts(rgb, 0, 0, 0)
    expect(rgb.reading.findings.map(({ code }) => code)).toEqual(['pdf-rgb-without-profile'])
  })

  it('is replaced by what the resources name as default', async () => {
    const reading = await readingOf(
      () => `/ColorSpace << /DefaultGray ${white} /DefaultCMYK /DeviceGray >> /S /DeviceGray /T /DeviceCMYK`,
    )
    const space = openColorSpace(reading, reading.object('S'), reading.resources)
    expect(space.inks.map(ink => reading.inks.list[ink]!.name)).toEqual(['White'])
    expect(openColorSpace(reading, reading.object('T'), reading.resources).components).toBe(4)
  })
})

describe('colours by what they look like', () => {
  it('separates Lab', async () => {
    const lab = await opened(() => '[/Lab << /WhitePoint [0.9642 1 0.8249] /Range [-128 127 -128 127] >>]')
    // Within rounding of the standard's white point.
    const want = separated('Lab', [0.6, (20 + 128) / 255, (-30 + 128) / 255])
    const got = amounts(lab, 60, 20, -30)
    for (const [ink, amount] of Object.entries(want)) expect(got[ink]).toBeCloseTo(amount!, 2)
    expect(lab.space.decode(8)).toEqual([0, 100, -128, 127, -128, 127])
    expect(amounts(lab, 100, 0, 0)).toEqual({ Cyan: 0, Magenta: 0, Yellow: 0, Black: 0 })
  })

  it('reads CalRGB with the numbers of sRGB as sRGB', async () => {
    // Example of ISO 32000-2, 8.6.5.3. Red of sRGB under D50: L* 54.29, a* 80.80, b* 69.89 (ICC sRGB profile, media white).
    const cal = await opened(
      () =>
        '[/CalRGB << /WhitePoint [0.9505 1 1.089] /Gamma [2.2222 2.2222 2.2222] /Matrix [0.4124 0.2126 0.0193 0.3576 0.7152 0.1192 0.1805 0.0722 0.9505] >>]',
    )
    const red = cal.space.inkColor([1, 0, 0])
    expect(red.space).toBe('Lab')
    expect(red.values[0]).toBeCloseTo(54.29, 1)
    expect(red.values[1]).toBeCloseTo(80.8, 0)
    expect(red.values[2]).toBeCloseTo(69.89, 0)
    const white = cal.space.inkColor([1, 1, 1]).values
    for (const [i, value] of [100, 0, 0].entries()) expect(Math.abs(white[i]! - value)).toBeLessThan(0.05)
    expect(amounts(cal, 1, 1, 1)).toEqual({ Cyan: 0, Magenta: 0, Yellow: 0, Black: 0 })
  })

  it('takes CalGray for light by its gamma', async () => {
    const cal = await opened(() => '[/CalGray << /WhitePoint [0.9505 1 1.089] /Gamma 2 >>]')
    // Light 0.25 is 0.5371 in the code of IEC 61966-2-1.
    expect(cal.space.inkColor([0.5]).values[0]).toBeCloseTo(0.5371, 4)
    expect(amounts(cal, 0.5)).toEqual({ Cyan: 0, Magenta: 0, Yellow: 0, Black: 0.463 })
  })

  it('goes by the profile of RGB', async () => {
    const p3 = displayProfile('display-p3')
    const rgb = await opened(pdf => `[/ICCBased ${pdf.stream('/N 3', p3)}]`)
    expect(amounts(rgb, 0, 0.8, 0.2)).toEqual(separated({ icc: p3 }, [0, 0.8, 0.2]))
    expect(rgb.reading.findings).toEqual([])
  })

  it('keeps the numbers of a CMYK profile, whose zeros overprint only where it is the print condition itself', async () => {
    const own = await opened(pdf => `[/ICCBased ${pdf.stream('/N 4', shippedCondition)}]`)
    expect(amounts(own, 0.1, 0.2, 0.3, 0.4)).toEqual({ Cyan: 0.1, Magenta: 0.2, Yellow: 0.3, Black: 0.4 })
    expect(own.space.family).toBe('DeviceCMYK')
    const longer = new Uint8Array(shippedCondition.length + 4)
    longer.set(shippedCondition)
    const other = await opened(pdf => `[/ICCBased ${pdf.stream('/N 4', longer)}]`)
    expect(other.space.family).toBe('other')
    expect(other.reading.findings.map(({ code }) => code)).toEqual(['pdf-cmyk-profile'])
  })

  it('reads colours without a profile that is damaged or of another kind, and says so', async () => {
    const damaged = await opened(pdf => `[/ICCBased ${pdf.stream('/N 3', 'no profile')}]`)
    expect(amounts(damaged, 1, 0.5, 0)).toEqual(separated('sRGB', [1, 0.5, 0]))
    expect(damaged.reading.findings[0]).toMatchObject({ code: 'pdf-profile-unusable' })
    const wrong = await opened(
      pdf => `[/ICCBased ${pdf.stream('/N 1 /Alternate /DeviceGray', shippedCondition)}]`,
    )
    expect(amounts(wrong, 0)).toMatchObject({ Black: 1 })
    expect(wrong.reading.findings[0]!.message).toContain('stands for CMYK')
  })
})

describe('colours that name inks', () => {
  it('gives an ink its own plane and what stands for it', async () => {
    const space = await opened(() => `[/Separation /Comet#20orange /DeviceCMYK ${tint([0, 0.6, 0.9, 0])}]`)
    expect(amounts(space, 0.4)).toEqual({ 'Comet orange': 0.4 })
    const { name, alternate } = space.reading.inks.list[4]!
    expect(name).toBe('Comet orange')
    expect(alternate!.space).toBe('CMYK')
    expect(alternate!.values).toEqual([0, 0.6, 0.9, 0])
  })

  it('paints a process ink by its name', async () => {
    const space = await opened(() => `[/Separation /Magenta /DeviceGray ${tint([0.5])}]`)
    expect(space.space.inks).toEqual([1])
    expect(space.reading.inks.list).toHaveLength(4)
  })

  it('reads names of UTF-8', async () => {
    const space = await opened(() => `[/Separation /Wei#c3#9f /DeviceCMYK ${tint([0, 0, 0, 0])}]`)
    expect(amounts(space, 1)).toEqual({ Weiß: 1 })
  })

  it('paints nothing with None and everything with All', async () => {
    const none = await opened(() => `[/Separation /None /DeviceGray ${tint([0])}]`)
    expect(none.space.inks).toEqual([])
    expect(none.space.tints([1])).toEqual([])
    const reading = await readingOf(() => `/W ${white} /A [/Separation /All /DeviceGray ${tint([0])}]`)
    openColorSpace(reading, reading.object('W'), null)
    const all = openColorSpace(reading, reading.object('A'), null)
    expect(all.inks).toEqual([0, 1, 2, 3, 4])
    expect(all.tints([0.5])).toEqual([0.5, 0.5, 0.5, 0.5, 0.5])
    expect(Array.from(all.manyTints(Float32Array.of(0.25, 1)))).toEqual([
      ...Array.from({ length: 5 }, () => 0.25),
      ...Array.from({ length: 5 }, () => 1),
    ])
  })

  it('splits several inks, leaves None out, and takes the colour of each from Colorants', async () => {
    const space = await opened(
      pdf =>
        `[/DeviceN [/Cyan /White /None /Foil] /DeviceCMYK ${pdf.stream(
          '/FunctionType 4 /Domain [0 1 0 1 0 1 0 1] /Range [0 1 0 1 0 1 0 1]',
          '{ pop pop 0 exch 0 exch 0.5 mul }',
        )} << /Colorants << /Foil [/Separation /Foil /DeviceRGB ${tint([0.5, 0.25, 0.75])}] >> >>]`,
    )
    expect(amounts(space, 0.1, 0.2, 0.3, 0.4)).toEqual({ Cyan: 0.1, White: 0.2, Foil: 0.4 })
    expect(space.reading.inks.list[4]!.alternate).toEqual({ space: 'CMYK', values: [0, 0, 0, 0.5] })
    expect(space.reading.inks.list[5]!.alternate).toEqual({ space: 'RGB', values: [0.5, 0.25, 0.75] })
  })

  it('knows process inks by the names that a file gives them', async () => {
    const space = await opened(
      pdf =>
        `[/DeviceN [/C /K /Foil] /DeviceCMYK ${pdf.stream(
          '/FunctionType 4 /Domain [0 1 0 1 0 1] /Range [0 1 0 1 0 1 0 1]',
          '{ pop 0 0 3 -1 roll }',
        )} << /Subtype /NChannel /Process << /ColorSpace /DeviceCMYK /Components [/C /M /Y /K] >> >>]`,
    )
    expect(amounts(space, 0.1, 0.2, 0.3)).toEqual({ Cyan: 0.1, Black: 0.2, Foil: 0.3 })
  })

  it('separates a process colour of light beside spot inks by what the tint transform makes of it alone', async () => {
    // Inks that take red, green and blue away; the transform mixes the foil into what it shows on a screen.
    const minus = '1 exch sub 3 1 roll '
    const space = await opened(
      pdf =>
        `[/DeviceN [/R /G /B /Foil] /DeviceRGB ${pdf.stream(
          '/FunctionType 4 /Domain [0 1 0 1 0 1 0 1] /Range [0 1 0 1 0 1]',
          `{ 0.5 mul 4 1 roll ${minus.repeat(3)} 3 -1 roll 4 -1 roll sub 3 1 roll }`,
        )} << /Subtype /NChannel /Process << /ColorSpace /DeviceRGB /Components [/R /G /B] >> >>]`,
    )
    const light = [0.2, 0.6, 0.9] as const
    expect(amounts(space, ...light.map(value => 1 - value), 0.4)).toEqual({
      ...separated('sRGB', light),
      Foil: 0.4,
    })
    expect(space.reading.inks.list.map(({ name }) => name).slice(4)).toEqual(['Foil'])
  })

  it('keeps the plane of an ink whose colour cannot be read, and says so', async () => {
    const space = await opened(() => '[/Separation /Foil /DeviceCMYK << /FunctionType 9 /Domain [0 1] >>]')
    expect(amounts(space, 0.5)).toEqual({ Foil: 0.5 })
    expect(space.reading.findings).toMatchObject([{ code: 'pdf-ink-alternate', where: 'ink "Foil"' }])
  })

  it(`refuses more than ${mostInks} inks`, async () => {
    const names = Array.from(
      { length: 100 },
      (_, i) => `/S${i} [/Separation /I${i} /DeviceGray ${tint([0])}]`,
    )
    const reading = await readingOf(() => names.join(' '))
    expect(() => {
      for (let i = 0; i < 100; i++) openColorSpace(reading, reading.object(`S${i}`), null)
    }).toThrow(/more than 64 inks/)
  })
})

describe('colours by number and of patterns', () => {
  it('looks them up in the colours of their base', async () => {
    const space = await opened(() => '[/Indexed /DeviceCMYK 2 <00000000 FF000033 00FF0000>]')
    expect(amounts(space, 1)).toEqual({ Cyan: 1, Magenta: 0, Yellow: 0, Black: 0.2 })
    expect(amounts(space, 9)).toEqual({ Cyan: 0, Magenta: 1, Yellow: 0, Black: 0 })
    expect(space.space.decode(4)).toEqual([0, 15])
    const inks = await opened(pdf => `[/Indexed ${white} 1 ${pdf.stream('', Uint8Array.of(0, 128))}]`)
    expect(amounts(inks, 1)).toEqual({ White: 0.502 })
  })

  it('says what is under a pattern', async () => {
    const { space } = await opened(() => `[/Pattern ${white}]`)
    expect(space.family).toBe('Pattern')
    expect(space.under!.tints([0.5])).toEqual([0.5])
    expect((await opened(() => '/Pattern')).space.under).toBeNull()
  })
})

describe('colours of a mask', () => {
  // ISO 32000-2, 10.4.2: grey is 0.3 R + 0.59 G + 0.11 B; darkness is what is left of 1.
  it.each([
    ['/DeviceGray', [0.25], 0.75],
    ['/DeviceRGB', [1, 0.5, 0], 1 - 0.595],
    ['/DeviceCMYK', [1, 0, 0, 0.5], 1 - 0.35],
    [white, [1], 0.1],
    ['[/Indexed /DeviceRGB 1 <000000 00FF00>]', [1], 0.41],
    ['[/Lab << /WhitePoint [0.9642 1 0.8249] >>]', [100, 0, 0], 0],
  ])('%s', async (text, values, darkness) => {
    const { space, reading } = await opened(() => text, 'luminosity')
    expect(space.inks).toEqual([0])
    expect(space.tints(values)[0]).toBeCloseTo(darkness, 5)
    expect(reading.findings).toEqual([])
  })
})

describe('what is no colour space', () => {
  it.each([
    ['/Unknown', 'colour space "Unknown"'],
    ['[/Indexed /DeviceRGB 300 <00>]', 'its last colour is 300'],
    ['[/Indexed /Pattern 1 <00>]', 'made of patterns'],
    ['[/Lab << >>]', 'no white point'],
    ['[/ICCBased 5]', 'has no components'],
    ['[/DeviceN [] /DeviceCMYK null]', 'names 0 inks'],
    ['[/Separation]', 'names no ink'],
    ['12', 'neither a name nor an array'],
  ])('%s is told', async (text, words) => {
    await expect(opened(() => text)).rejects.toThrow(words)
    await expect(opened(() => text)).rejects.toThrow(BadInput)
  })

  it('and one that holds itself is not followed', async () => {
    const reading = await readingOf(() => '/ColorSpace << /S /T /T /S /D [/Indexed /S 1 <00>] >> /S /S')
    expect(() => openColorSpace(reading, reading.object('S'), reading.resources)).toThrow(/8 deep/)
  })
})

it('a print condition without a way to ink is refused', () => {
  expect(() => makeSeparator(engine, displayProfile('srgb'), 'page.pdf', [])).toThrow(BadInput)
})
