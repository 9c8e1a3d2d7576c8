import { expect, test } from 'vitest'
import type { FillMark, GroupMark, Mark, StrokeMark } from '../../../../core/art/ink/mark.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { Cancelled } from '../../../../core/base/task.ts'
import { plainParts, readSmall, white } from './plain-parts.ts'

const mm = 25.4 / 72

function only<K extends Mark['kind']>(marks: readonly Mark[], kind: K): Extract<Mark, { kind: K }> {
  const [mark] = marks
  if (marks.length !== 1 || mark === undefined || mark.kind !== kind)
    throw new Error(`expected one ${kind}, got ${marks.map(one => one.kind).join(', ')}`)
  return mark as Extract<Mark, { kind: K }>
}
const fills = (marks: readonly Mark[]) => marks.filter((mark): mark is FillMark => mark.kind === 'fill')
const points = (mark: FillMark | StrokeMark, unit = mm) =>
  Array.from(mark.path.points, value => Math.round((value / unit) * 1e6) / 1e6)
const tints = (mark: Mark) => {
  if (mark.kind === 'group' || mark.paint.kind !== 'tints') throw new Error('no tints')
  return { inks: mark.paint.inks, values: mark.paint.values }
}

test('paths are filled in mm of the page, turned and scaled by what stands before them', async () => {
  const page = await readSmall({ content: 'q 2 0 0 2 10 20 cm 0.1 0.2 0 0.3 k 1 2 3 4 re f* Q' })
  const mark = only(page.marks, 'fill')
  expect(points(mark)).toEqual([12, 24, 18, 24, 18, 32, 12, 32])
  expect([...mark.path.steps]).toEqual([0, 1, 1, 1, 3])
  expect(mark.rule).toBe('evenodd')
  expect(tints(mark)).toEqual({ inks: [0, 1, 2, 3], values: [0.1, 0.2, 0, 0.3] })
  expect(mark).toMatchObject({
    alpha: 1,
    blend: 'normal',
    overprint: false,
    layer: null,
    clip: null,
    text: null,
  })
})

test('v and y take the pen and the end as their other control; l without a beginning begins', async () => {
  const page = await readSmall({ content: '1 1 m 2 2 3 3 v 4 4 5 5 y h f  7 8 l 9 9 l f' })
  const [curves, lines] = fills(page.marks)
  expect(points(curves!)).toEqual([1, 1, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 5, 5])
  expect(points(lines!)).toEqual([7, 8, 9, 9])
})

test('strokes keep the space of their pen, with all of its style', async () => {
  const content = '[4 2 1] 3 d 0.5 w 1 J 2 j 5 M 2 0 0 1 0 0 cm 1 1 m 5 1 l S'
  const mark = only((await readSmall({ content })).marks, 'stroke')
  expect(points(mark, 1)).toEqual([1, 1, 5, 1])
  expect(mark.matrix.map(value => value / mm)).toEqual([2, 0, 0, 1, 0, 0].map(v => expect.closeTo(v, 9)))
  expect(mark.style).toEqual({
    width: 0.5,
    cap: 'round',
    join: 'bevel',
    miterLimit: 5,
    dash: [4, 2, 1],
    dashPhase: 3,
  })
})

test('clips come one inside the other and end with Q; a clip of nothing is kept', async () => {
  const page = await readSmall({
    content: 'q 0 0 9 9 re W n 1 1 m 5 5 l 9 1 l W* n 0 0 4 4 re f Q 0 0 4 4 re f q W n 0 0 1 1 re f Q',
  })
  const [inside, outside, none] = fills(page.marks)
  expect(inside?.clip?.rule).toBe('evenodd')
  expect(inside?.clip?.within?.rule).toBe('nonzero')
  expect(inside?.clip?.within?.within).toBe(null)
  expect(outside?.clip).toBe(null)
  expect(none?.clip?.path.steps.length).toBe(0)
})

test('overprint is of fills and strokes apart; in mode 1 zeros of DeviceCMYK leave what is below (ISO 32000-2, 8.6.7)', async () => {
  const resources = `/ColorSpace << ${white} >> /ExtGState << /A << /OP true >> /B << /OP true /op false /OPM 1 >> /C << /op true /OPM 1 >> >>`
  const content = `q /A gs 0 0 0 0.4 k 0 0 1 1 re f Q
    q /B gs 0 0 0 1 k 0 0 0 1 K 0 0 1 1 re B Q
    q /C gs 0 0 0 0.4 k 0 0 1 1 re f /White cs 0 scn 0 0 1 1 re f 0 0 0 0 k 0 0 1 1 re f 0.3 g 0 0 1 1 re f Q`
  const page = await readSmall({ content, resources, objects: { 99: '<< >>' } })
  const marks = page.marks.flatMap(mark => (mark.kind === 'group' ? mark.marks : [mark]))
  expect(marks.map(mark => [mark.kind, mark.overprint])).toEqual([
    ['fill', true],
    ['fill', false],
    ['stroke', true],
    ['fill', true],
    ['fill', true],
    // Nothing of 0 0 0 0 k is painted.
    ['fill', true],
  ])
  expect(tints(marks[0]!).inks).toEqual([0, 1, 2, 3])
  expect(tints(marks[1]!).inks).toEqual([0, 1, 2, 3])
  expect(tints(marks[2]!)).toEqual({ inks: [3], values: [1] })
  expect(tints(marks[3]!)).toEqual({ inks: [3], values: [0.4] })
  // An ink of its own paints also where its amount is 0; grey paints all process inks.
  expect(tints(marks[4]!)).toEqual({ inks: [4], values: [0] })
  expect(tints(marks[5]!).inks).toEqual([0, 1, 2, 3])
})

test('the ink None makes no mark, All paints every ink that the page uses, also those that come later', async () => {
  const resources = `/ColorSpace << ${white} /None [/Separation /None /DeviceCMYK 99 0 R] /All [/Separation /All /DeviceCMYK 99 0 R] >>`
  const content = '/None cs 1 scn 0 0 1 1 re f /All cs 0.5 scn 0 0 1 1 re f /White cs 1 scn 0 0 1 1 re f'
  const page = await readSmall({ content, resources, objects: { 99: '<< >>' } })
  expect(page.inks.map(ink => ink.name)).toEqual(['Cyan', 'Magenta', 'Yellow', 'Black', 'White'])
  expect(page.marks.map(mark => tints(mark).inks)).toEqual([[0, 1, 2, 3, 4], [4]])
})

test('solidity and printing order of inks come from MixingHints', async () => {
  const resources = `/ColorSpace << ${white} >>`
  const hints =
    '[/DeviceN [/White] /DeviceCMYK 99 0 R << /MixingHints << /Solidities << /White 0.85 /Default 0.1 >> /PrintingOrder [/White /Cyan] >> >>]'
  let met: ReadonlyMap<string, { solidity: number | null; order: number | null }> = new Map()
  await readSmall(
    { content: '/White cs 1 scn 0 0 1 1 re f', resources, objects: { 20: hints, 99: '<< >>' } },
    {
      ...plainParts,
      inkSet: given => {
        met = given
        return plainParts.inkSet(given)
      },
    },
  )
  expect(met.get('White')).toEqual({ solidity: 0.85, order: 0 })
  expect(met.get('Cyan')).toEqual({ solidity: 0.1, order: 1 })
})

test('marks name the layer that they lie in, through forms too', async () => {
  const page = await readSmall({
    content: '/OC /L0 BDC 0 0 1 1 re f /Span << /MCID 0 >> BDC /F Do EMC EMC 0 0 2 2 re f /I Do',
    resources: '/Properties << /L0 10 0 R >> /XObject << /F 12 0 R /I 13 0 R >>',
    catalog: '/OCProperties << /OCGs [10 0 R 11 0 R] /D << /Order [11 0 R 10 0 R] >> >>',
    objects: {
      10: '<< /Type /OCG /Name (Stars) >>',
      11: '<< /Type /OCG /Name (Die) >>',
      12: ['/Type /XObject /Subtype /Form /BBox [0 0 9 9]', '0 0 3 3 re f'],
      13: ['/Type /XObject /Subtype /Image /Width 1 /Height 1 /OC 11 0 R', 'x'],
    },
  })
  const names = page.marks.map(mark => (mark.layer === null ? null : page.layers[mark.layer]?.name))
  expect(names).toEqual(['Stars', 'Stars', null, 'Die'])
})

test('a form is moved by its matrix, cut to its box, and its own patterns lie in its space', async () => {
  const page = await readSmall({
    content: '1 0 0 1 10 0 cm /F Do',
    resources: '/XObject << /F 12 0 R >>',
    objects: {
      12: [
        '/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Matrix [1 0 0 1 0 20] /Resources << /Pattern << /P 14 0 R >> >>',
        '/Pattern cs /P scn 0 0 3 3 re f',
      ],
      14: [
        '/PatternType 1 /PaintType 1 /BBox [0 0 2 2] /XStep 2 /YStep 3 /Matrix [1 0 0 1 5 5]',
        '1 0 0 0 k 0 0 1 1 re f',
      ],
    },
  })
  const mark = only(page.marks, 'fill')
  expect(points(mark)).toEqual([10, 20, 13, 20, 13, 23, 10, 23])
  expect(Array.from(mark.clip!.path.points, v => Math.round(v / mm))).toEqual([
    10, 20, 19, 20, 19, 29, 10, 29,
  ])
  if (mark.paint.kind !== 'tiling') throw new Error('no tiling')
  const { tiling } = mark.paint
  expect(tiling.matrix.map(value => value / mm)).toEqual([1, 0, 0, 1, 15, 25].map(v => expect.closeTo(v, 9)))
  expect([tiling.stepX, tiling.stepY, ...tiling.box]).toEqual([2, 3, 0, 0, 2, 2])
  expect(tints(only(tiling.marks, 'fill'))).toEqual({ inks: [0, 1, 2, 3], values: [1, 0, 0, 0] })
})

test('an uncoloured pattern has the colour that it is chosen with, and none of its own', async () => {
  const page = await readSmall({
    content: '/U cs 0.1 0.2 0.3 0.4 /P scn 0 0 3 3 re f',
    resources: '/ColorSpace << /U [/Pattern /DeviceCMYK] >> /Pattern << /P 14 0 R >>',
    objects: { 14: ['/PatternType 1 /PaintType 2 /BBox [0 0 2 2] /XStep 2 /YStep 2', '1 g 0 0 1 1 re f'] },
  })
  const mark = only(page.marks, 'fill')
  if (mark.paint.kind !== 'tiling') throw new Error('no tiling')
  expect(tints(only(mark.paint.tiling.marks, 'fill')).values).toEqual([0.1, 0.2, 0.3, 0.4])
})

test('a shading pattern is laid down as its own graphics state says, and else as the one that there is', async () => {
  const shading =
    '/Shading << /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [0 0 1 0] /Function << /FunctionType 2 /Domain [0 1] /N 1 /C0 [0 0 0 0] /C1 [1 0 0 0] >> >>'
  const page = await readSmall({
    content: '/G gs /Pattern cs /P scn 0 0 3 3 re f /Q scn 0 0 3 3 re f',
    resources: `/ExtGState << /G << /ca 0.25 /BM /Screen >> >> /Pattern << /P << /PatternType 2 ${shading} /ExtGState << /ca 0.5 /OP true /AIS true >> >> /Q << /PatternType 2 ${shading} >> >>`,
  })
  expect(page.marks).toMatchObject([
    { alpha: 0.5, blend: 'screen', overprint: true, alphaIsShape: true },
    { alpha: 0.25, blend: 'screen', overprint: false },
  ])
})

const group = (more: string, content: string) =>
  [`/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Group << /S /Transparency ${more} >>`, content] as const

test('a group keeps its opacity, mode and mask for itself; what changes nothing is no group', async () => {
  const resources =
    '/XObject << /G 12 0 R /I 13 0 R /O 15 0 R >> /ExtGState << /H << /ca 0.5 /BM [/None /Multiply] >> /O << /op true >> >>'
  const objects = {
    12: group('', '0 0 3 3 re f 1 1 2 2 re f'),
    13: group('/I true /K true', '0 0 3 3 re f'),
    15: group('/I true', '0 0 3 3 re f'),
  }
  const faded = only(
    (await readSmall({ content: '/H gs /G Do', resources, objects })).marks,
    'group',
  ) as GroupMark
  expect(faded).toMatchObject({
    alpha: 0.5,
    blend: 'multiply',
    isolated: false,
    knockout: false,
    overprint: false,
  })
  expect(faded.marks.map(mark => [mark.kind, mark.alpha, mark.blend])).toEqual([
    ['fill', 1, 'normal'],
    ['fill', 1, 'normal'],
  ])
  expect((await readSmall({ content: '/G Do', resources, objects })).marks.map(mark => mark.kind)).toEqual([
    'fill',
    'fill',
  ])
  expect(only((await readSmall({ content: '/I Do', resources, objects })).marks, 'group')).toMatchObject({
    isolated: true,
    knockout: true,
  })
  // What overprints inside an isolated group has nothing below it there, and as a group knocks out: it stays one.
  expect((await readSmall({ content: '/O Do', resources, objects })).marks.map(mark => mark.kind)).toEqual([
    'fill',
  ])
  expect(
    (await readSmall({ content: '/O gs /O Do', resources, objects })).marks.map(mark => mark.kind),
  ).toEqual(['group'])
})

test('a soft mask of luminosity paints one ink, over its backdrop, by its transfer', async () => {
  const page = await readSmall({
    content: '2 0 0 2 0 0 cm /S gs 0 0 3 3 re f /N gs 0 0 3 3 re f',
    resources:
      '/ExtGState << /S << /SMask << /S /Luminosity /G 12 0 R /BC [0.25] /TR 13 0 R >> >> /N << /SMask /None >> >>',
    objects: {
      12: group('/CS /DeviceGray', '0.75 g 1 1 2 2 re f'),
      13: '<< /FunctionType 2 /N 1 /Domain [0 1] >>',
    },
  })
  const [masked, plain] = page.marks
  expect(plain?.softMask).toBe(null)
  const mask = masked!.softMask!
  expect(mask.from).toBe('luminosity')
  expect(mask.backdrop).toBeCloseTo(0.25, 9)
  expect(mask.transfer?.(0.2)).toBeCloseTo(0.8, 9)
  const inner = only(mask.marks, 'fill')
  expect(tints(inner)).toEqual({ inks: [0], values: [0.25] })
  expect(points(inner)).toEqual([2, 2, 6, 2, 6, 6, 2, 6])
})

test('inline images and stencils are pictures; a stencil takes the colour of fills', async () => {
  const content = `q 4 0 0 2 1 1 cm BI /W 2 /H 2 /BPC 8 /CS /G ID abEI EI Q
    0.5 0 0 0 k q 3 0 0 3 0 0 cm BI /W 8 /H 1 /IM true /F /AHx ID 7F> EI Q 0 0 1 1 re f`
  const page = await readSmall({ content })
  expect(page.marks.length).toBe(3)
  const [image, stencil] = fills(page.marks)
  expect(points(image!)).toEqual([1, 1, 5, 1, 5, 3, 1, 3])
  if (image?.paint.kind !== 'field' || stencil?.paint.kind !== 'field') throw new Error('no fields')
  expect(image.paint.field.inks).toEqual([3])
  expect(stencil.paint.field.inks).toEqual([0, 1, 2, 3])
})

test('a shading fills all that the clip lets through', async () => {
  const page = await readSmall({
    content: '0 0 5 5 re W n /S sh',
    resources: '/Shading << /S << /ShadingType 2 /ColorSpace /DeviceCMYK >> >>',
  })
  const mark = only(page.marks, 'fill')
  expect(mark.paint.kind).toBe('field')
  expect(points(mark)).toEqual([0, 0, 720, 0, 720, 360, 0, 360])
  expect(mark.clip).not.toBe(null)
})

test('what is not there, runs itself or cannot be read is said, and the rest goes on', async () => {
  const page = await readSmall({
    content:
      '/X gs /Y Do /F Do /Pattern cs /Q scn 0 0 1 1 re f /Odd cs 0 0 0 1 k /Z sh 0 0 1 1 re f Q Q ] > ) } foo',
    resources: '/XObject << /F 12 0 R >> /ColorSpace << /Odd [/Comet] >>',
    objects: {
      12: [
        '/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /F 12 0 R >> >>',
        '/F Do 0 0 2 2 re f',
      ],
    },
  })
  expect(page.findings.map(finding => finding.code)).toEqual([
    'graphics-state-missing',
    'object-missing',
    'form-in-itself',
    'pattern-not-painted',
    'colour-space-not-read',
    'shading-not-read',
  ])
  expect(page.marks.length).toBe(2)
})

test('a page without drawing, and drawing that is not in the file', async () => {
  const none = await readSmall({ page: '/Contents null' })
  expect([none.marks.length, none.findings[0]?.code]).toEqual([0, 'page-empty'])
  const lost = await readSmall({ page: '/Contents [4 0 R 77 0 R]', content: '0 0 1 1 re f' })
  expect([lost.marks.length, lost.findings[0]?.code]).toEqual([1, 'content-missing'])
})

test('work without end is refused by name, and reading can be stopped', async () => {
  // Each pattern of ten forms runs ten of the next: ten thousand million operators.
  const layers = Object.fromEntries(
    Array.from({ length: 12 }, (_, at) => [
      20 + at,
      [
        `/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /F ${21 + at} 0 R >> >>`,
        '/F Do '.repeat(30),
      ] as const,
    ]),
  )
  const bomb = {
    content: '/F Do',
    resources: '/XObject << /F 20 0 R >>',
    objects: { ...layers, 32: ['/Type /XObject /Subtype /Form /BBox [0 0 9 9]', '0 g'] as const },
  }
  let asked = 0
  const signal = {
    get aborted() {
      return ++asked > 3
    },
  } as AbortSignal
  await expect(readSmall(bomb, plainParts, { signal })).rejects.toThrow(Cancelled)
  const deep = await readSmall({ content: 'q '.repeat(3000) }).catch((error: unknown) => error)
  expect(deep instanceof BadInput && deep.code).toBe('page-too-complex')
})

test('fill and stroke of one path count as one object (ISO 32000-2, 11.7.4.4)', async () => {
  const resources = '/ExtGState << /H << /ca 0.5 /CA 0.5 >> /O << /OP true >> >>'
  const of = async (content: string) => (await readSmall({ content, resources })).marks
  expect((await of('0 0 9 9 re B')).map(mark => mark.kind)).toEqual(['fill', 'stroke'])
  const apart = only(await of('/H gs 0 0 9 9 re B'), 'group')
  expect(apart).toMatchObject({ knockout: true, isolated: false, alpha: 1, blend: 'normal' })
  expect(apart.marks.map(mark => [mark.kind, mark.alpha])).toEqual([
    ['fill', 0.5],
    ['stroke', 0.5],
  ])
  const together = only(await of('/H gs /O gs 0 0 9 9 re B'), 'group')
  expect(together).toMatchObject({ knockout: false, alpha: 0.5 })
  expect(together.marks.map(mark => [mark.alpha, mark.overprint])).toEqual([
    [1, true],
    [1, true],
  ])
})

test('inside a group that knocks out, a group of several stays one object', async () => {
  const page = await readSmall({
    content: '/K Do',
    resources: '/XObject << /K 12 0 R >>',
    objects: {
      12: group('/K true', '/G Do /S Do 0 0 9 9 re B').map((part, at) =>
        at === 0 ? `${part} /Resources << /XObject << /G 13 0 R /S 14 0 R >> >>` : part,
      ) as unknown as readonly [string, string],
      13: group('', '0 0 3 3 re f 1 1 2 2 re f'),
      14: group('', '0 0 3 3 re f'),
    },
  })
  const outer = only(page.marks, 'group')
  expect(outer.marks.map(mark => mark.kind)).toEqual(['group', 'fill', 'group'])
})

test('layers lie as they are painted, also those of type, pictures and shadings alone', async () => {
  const layer = (number: number) => `<< /Type /OCG /Name (L${number}) >>`
  const page = await readSmall({
    content: `/OC /A BDC BT /F 9 Tf (stars) Tj ET EMC /OC /B BDC /I Do EMC /OC /C BDC /S sh EMC
      /OC /D BDC /Pattern cs /P scn 0 0 9 9 re f EMC /OC /E BDC 0 0 9 9 re f EMC`,
    resources: `/Properties << /A 14 0 R /B 13 0 R /C 12 0 R /D 11 0 R /E 10 0 R >> /Font << /F << /Subtype /Type1 >> >>
      /XObject << /I 20 0 R >> /Shading << /S << /ShadingType 2 /ColorSpace /DeviceCMYK >> >>
      /Pattern << /P << /PatternType 2 /Shading << /ShadingType 2 /ColorSpace /DeviceCMYK >> >> >>`,
    catalog: '/OCProperties << /OCGs [10 0 R 11 0 R 12 0 R 13 0 R 14 0 R] /D << >> >>',
    objects: {
      ...Object.fromEntries([10, 11, 12, 13, 14].map(number => [number, layer(number)])),
      20: ['/Type /XObject /Subtype /Image /Width 1 /Height 1', 'x'],
    },
  })
  expect(page.layers.map(one => one.name)).toEqual(['L14', 'L13', 'L12', 'L11', 'L10'])
  expect(page.marks.map(mark => mark.layer)).toEqual([1, 2, 3, 4])
})
