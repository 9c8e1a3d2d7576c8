import { describe, expect, test } from 'vitest'
import { sortMarks } from '../../../../core/art/drawn/leaves.ts'
import { paintPage } from '../../../../core/art/ink/raster.ts'
import { readInkPage } from '../../../../core/art/pdf/read-page.ts'
import { memorySource } from '../../../../core/base/source.ts'
import { pageData } from '../../../support/page-data.ts'
import { box, rgbGroup, spots } from '../../../support/pdf-pages/spaces.ts'
import { onePage } from '../../../support/pdf-write.ts'

/** The page, and its inks in its middle, 0..255. */
async function read(group: string, content: string) {
  const pdf = onePage(() => ({
    page: group,
    resources: `/ColorSpace << ${spots} >> /ExtGState << /Half << /ca 0.5 >> /Full << /ca 1 >> >>`,
    content,
  }))
  const page = await readInkPage(memorySource('page.pdf', pdf), {}, pageData)
  const { inks } = paintPage(page, { widthPx: 3, heightPx: 3 })
  return { page, middle: inks.map(plane => plane[4]!) }
}
const codes = ({ findings }: { readonly findings: readonly { readonly code: string }[] }) =>
  findings.map(({ code }) => code)
const black = `0 g ${box(0, 0, 180, 120)}`

// What a group blends in: ISO 32000-2, 11.3.4 and 11.4.7. Whole pages are held to another renderer in separations.test.ts.
describe('a page that blends in light', () => {
  test('prints black alone where all of it is opaque', async () => {
    const { page, middle } = await read(rgbGroup, black)
    expect(middle).toEqual([0, 0, 0, 255])
    expect(codes(page)).toEqual([])
  })

  test('prints black of four inks, and says so, where anything on it is not opaque', async () => {
    const { page, middle } = await read(rgbGroup, `/Half gs ${box(0, 0, 1, 1)} /Full gs ${black}`)
    // The darkest RGB there is, by the print condition that ships: all four inks, less than 330 % of them.
    for (const amount of middle) expect(amount).toBeGreaterThan(100)
    expect(middle.reduce((sum, amount) => sum + amount, 0)).toBeLessThan(3.3 * 255)
    expect(codes(page)).toContain('ink-blended-in-light')
    expect(page.inexact).toEqual([])
  })

  test('tells what its layers are painted with in inks', async () => {
    const { page, middle } = await read(
      rgbGroup,
      `/Half gs 1 1 1 rg ${box(0, 0, 1, 1)} /Full gs 0.2 0.6 0.3 rg ${box(0, 0, 180, 120)} /W cs 0.5 scn ${box(0, 0, 1, 1)}`,
    )
    const { leaves } = sortMarks(page, 4)
    const paints = leaves.flatMap(({ marks }) => marks.map(({ paint }) => paint))
    const green = paints[1]
    if (green?.kind !== 'tints') throw new Error('no tints')
    expect(green.inks).toEqual([0, 1, 2, 3])
    expect(green.values.map(value => Math.round(255 * value))).toEqual(middle.slice(0, 4))
    expect(leaves.find(({ spots: only }) => only !== null)).toMatchObject({ spots: [4] })
  })

  test('prints with black alone where it blends in grey', async () => {
    const grey = '/Group << /S /Transparency /CS /DeviceGray >>'
    const { page, middle } = await read(grey, `0 0 1 0 k ${box(0, 0, 180, 120)} /Half gs ${black}`)
    expect(middle.slice(0, 3)).toEqual([0, 0, 0])
    expect(middle[3]).toBeGreaterThan(127)
    expect(codes(page)).toEqual(['ink-blended-in-light'])
  })
})
