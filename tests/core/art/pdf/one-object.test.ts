import { expect, test } from 'vitest'
import { paintPage } from '../../../../core/art/ink/raster.ts'
import { readInkPage } from '../../../../core/art/pdf/read-page.ts'
import { memorySource } from '../../../../core/base/source.ts'
import { pageData } from '../../../support/page-data.ts'
import { comparePlanes, edgePixels, hasTiffsep, tiffsep } from '../../../support/tiffsep.ts'
import { type SmallPdf, smallPdf } from './small-pdf.ts'

// What counts as one object, and what is knocked out, against the separation renderer of the system.

const toMagenta = '<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 0 0] /N 1 >>'
const resources = (more = '') =>
  `/ColorSpace << /W [/Separation /White /DeviceCMYK ${toMagenta}] /H [/Separation /Holo /DeviceCMYK ${toMagenta}] >> /ExtGState << /Half << /ca 0.5 /CA 0.5 >> /Two << /ca 0.5 /CA 0.25 >> /OS << /OP true /op false >> /O << /OP true /OPM 1 >> /M << /BM /Multiply >> >> ${more}`
const clear = '/MediaBox [0 0 200 100] /Group << /S /Transparency /CS /DeviceCMYK >>'
const opaque = '/MediaBox [0 0 200 100]'
const ground = '0.3 0 0.4 0 k 0 0 100 100 re f '
const both = '20 w 0 0.8 0 0 k /W CS 1 SCN 60 30 80 40 re B'
const form = (group: string, content: string, more = '') =>
  [
    `/Type /XObject /Subtype /Form /BBox [0 0 200 100] /Group << /S /Transparency ${group} >> /Resources << ${resources(more)} >>`,
    content,
  ] as const
const two = '0 0.8 0 0 k 40 20 60 60 re f /W cs 1 scn 80 40 60 50 re f'

const pages: Readonly<Record<string, SmallPdf>> = {
  'fill and stroke, half opaque': {
    page: clear,
    resources: resources(),
    content: `${ground} /Half gs ${both}`,
  },
  'fill and stroke, unequally opaque': {
    page: clear,
    resources: resources(),
    content: `${ground} /Two gs ${both}`,
  },
  'fill and stroke, multiplied': { page: clear, resources: resources(), content: `${ground} /M gs ${both}` },
  'a group inside of one that knocks out': {
    page: clear,
    resources: resources('/XObject << /K 12 0 R >>'),
    content: `${ground} /K Do`,
    objects: {
      12: form('/K true', `/Half gs ${two} /G Do`, '/XObject << /G 13 0 R >>'),
      13: form('', '0 0 0 0.5 k 30 10 30 80 re f 0.5 0 0 0 k 50 10 20 80 re f'),
    },
  },
  'overprint inside an isolated group': {
    page: clear,
    resources: resources('/XObject << /G 12 0 R >>'),
    content: `${ground} /G Do`,
    objects: { 12: form('/I true', `/O gs ${two}`) },
  },
  'overprint from outside of a group': {
    page: clear,
    resources: resources('/XObject << /G 12 0 R >>'),
    content: `${ground} /O gs /G Do`,
    objects: { 12: form('', two) },
  },
  'a stencil in a pattern': {
    page: opaque,
    resources: resources('/Pattern << /P 14 0 R >>'),
    content: `${ground} /Pattern cs /P scn q 80 0 0 80 10 10 cm BI /W 8 /H 2 /IM true /F /AHx ID 0F F0> EI Q`,
    objects: {
      14: [
        '/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 /Resources << >>',
        '0 1 0 0 k 0 0 5 10 re f',
      ],
    },
  },
  'the ink All': {
    page: opaque,
    resources: `/ColorSpace << /W [/Separation /White /DeviceCMYK ${toMagenta}] /A [/Separation /All /DeviceCMYK ${toMagenta}] >>`,
    content: '/A cs 0.5 scn 10 10 40 40 re f /W cs 1 scn 60 10 60 20 re f',
  },
}

test.skipIf(!hasTiffsep).each(Object.keys(pages))(
  '%s: within 2/255 away from edges (gs tiffsep)',
  async name => {
    const bytes = smallPdf(pages[name]!)
    const page = await readInkPage(memorySource('small.pdf', bytes.slice()), {}, pageData)
    const separated = tiffsep(bytes, 72)
    const { width, height, planes } = separated
    const edges = edgePixels(separated)
    const ours = paintPage(page, { widthPx: width, heightPx: height })
    expect(page.inks.map(ink => ink.name).sort()).toEqual([...planes.keys()].sort())
    for (const [ink, plane] of planes) {
      const own = ours.inks[page.inks.findIndex(one => one.name === ink)]!
      expect(comparePlanes(own, plane, width, edges).largest, ink).toBeLessThanOrEqual(2)
    }
  },
)
