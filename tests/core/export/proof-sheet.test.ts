import { describe, expect, test } from 'vitest'
import { listed } from '../../../core/checks/run.ts'
import type { SheetPicture } from '../../../core/export/pdf/flow.ts'
import { type ProofSheetInput, proofSheet } from '../../../core/export/proof-sheet.ts'
import { assumedNumbers } from '../../../core/job/assumed.ts'
import type { Job } from '../../../core/job/job.ts'
import { proofLabel } from '../../../core/proof/names.ts'
import type { Note } from '../../../core/proof/notes.ts'
import { versionOf } from '../../../core/proof/version.ts'
import { checkFinding } from '../../support/check-finding.ts'
import { plainArt, plainJob } from '../../support/job.ts'
import { paintMap } from '../../support/paint-map.ts'
import { pageTexts } from '../../support/pdf-text.ts'
import { hasTool } from '../../support/tools.ts'

const poppler = hasTool('pdftotext', '-v')

const picture: SheetPicture = { width: 10, height: 12, rgb: new Uint8Array(360).fill(90) }
const map = {
  ...paintMap(
    {
      size: 40,
      sideMm: 20,
      gratings: 1,
      whites: [{ opacity: 0.6, hits: 2 } as never],
      spots: [],
      varnish: true,
    },
    () => ({}),
  ),
  areas: [
    { id: 0, name: '', layerId: '', effect: '' },
    { id: 1, name: 'Lens rings', layerId: '7', effect: 'plain' },
  ],
}
const note: Note = {
  id: 'note-0001',
  of: null,
  author: 'Ines Halden',
  at: '2026-03-04T09:30:00Z',
  text: 'The ring glares over the title.',
  place: { xMm: 12.5, yMm: 30 },
  lamp: { azimuthDeg: 60, elevationDeg: 60, distanceMm: 500, diameterMm: 10 },
  view: {
    pose: { tiltForwardDeg: 15, tiltSideDeg: 0, turnDeg: 0 },
    eye: { sideDeg: 0, riseDeg: 0, distanceMm: 400 },
  },
  answers: [{ author: 'Jan', at: '2026-03-05T09:30:00Z', text: 'Coarser now.', state: 'settled' }],
}
function inputFor(job: Job, jobName: string, change: Partial<ProofSheetInput> = {}): ProofSheetInput {
  return {
    version: versionOf({
      jobName,
      madeAt: '2026-03-06T10:00:00Z',
      program: '0.1.0',
      data: 'abc',
      sources: [{ kind: 'art', name: 'front.psd', sha256: 'a1'.repeat(32), bytes: 1234 }],
      job,
    }),
    art: plainArt,
    assigned: [],
    map,
    checked: listed(
      [
        checkFinding({ key: 'a' }),
        checkFinding({ key: 'b', severity: 'warning', where: 'the white plate', message: 'is thin' }),
      ],
      [{ key: 'b', reason: 'seen on the sample', by: 'I. Halden', on: '2026-03-31' }],
    ),
    found: [{ picture, title: 'Worst glare', says: '12 times as bright as white paper' }],
    lights: [{ picture, title: 'Booth alone', says: 'even light' }],
    swatches: new Map([[1, [picture, picture, picture]]]),
    notes: [note],
    ...change,
  }
}

describe('proof sheet', () => {
  const input = inputFor(plainJob, 'comet.job.json')

  test('the same input gives the same bytes', async () => {
    expect(await proofSheet(input)).toEqual(await proofSheet(input))
  })

  test.skipIf(!poppler)(
    'says what it shows, finds, notes, assumes and was made from, on numbered pages',
    async () => {
      const texts = pageTexts(await proofSheet(input))
      const all = texts.join(' ')
      const expected = [
        // Pictures
        'Worst glare',
        '12 times as bright as white paper',
        'Booth alone',
        // Layers and effects
        '60 %, 2 hits',
        'Metal with relief',
        'Lens rings',
        'Plain rainbow',
        // Findings: number, limit with its source, waiver
        '1 fails, 0 to be looked at, 0 to be known, 1 waived.',
        'cannot be read at 20° forward.',
        'limit 4.5 :1',
        'seen on the sample',
        // Notes
        'The ring glares over the title.',
        'Jan, 2026-03-05 09:30 UTC',
        // Sources
        'a1'.repeat(32),
        input.version.id,
        input.version.jobSha256,
        'with tables of abc',
      ]
      for (const part of expected) expect(all).toContain(part)
      for (const { name } of assumedNumbers(plainJob))
        expect(all).toContain(name.split(' ').slice(0, 3).join(' '))
      for (const [i, text] of texts.entries()) {
        expect(text).toContain(`Page ${i + 1} of ${texts.length}`)
        expect(text).toContain(`version ${input.version.id.slice(0, 8)} · ${proofLabel}`)
      }
      expect(texts[0]!.indexOf(proofLabel)).toBeLessThan(texts[0]!.indexOf('Worst glare'))
      // The words that belong to a contract proof alone (ISO 12647-7) stand nowhere.
      expect(all).not.toMatch(/Contract Proof according/i)
    },
  )

  const hostile = [
    '<script>alert(1)</script>',
    ') Tj ET Q \\) endstream',
    'x'.repeat(5000),
    '彗星 Žluťoučký \u202e\u0000',
    '%PDF-1.7 /JavaScript (app.alert)',
  ]
  test.skipIf(!poppler)('hostile and very long names are words, wrapped and told', async () => {
    const name = hostile.join(' ')
    const bytes = await proofSheet(
      inputFor({ ...plainJob, brief: name }, name, {
        map: { ...map, areas: [map.areas[0]!, { ...map.areas[1]!, name }] },
        checked: listed([checkFinding({ where: name, message: name })], []),
        notes: [{ ...note, author: name, text: name }],
        found: [{ picture, title: name.slice(0, 300), says: name.slice(0, 300) }],
      }),
    )
    const all = pageTexts(bytes).join(' ')
    expect(all).toContain('<script>alert(1)</script>')
    expect(all).toContain('U+5F57 as [5F57]')
    expect(all).toContain('U+202E as [202E]')
    expect(all.replaceAll(' ', '').match(/x{40,}/g)).not.toBeNull()
    expect(Buffer.from(bytes).includes('/JavaScript')).toBe(false)
  })

  test.skipIf(!poppler)('a job with nothing to tell is still whole', async () => {
    const bare = inputFor(plainJob, 'bare.job.json', {
      found: [],
      lights: [],
      swatches: new Map(),
      notes: [],
      checked: listed([], []),
      map: { ...map, areas: [map.areas[0]!], whites: [], varnish: null },
    })
    const all = pageTexts(await proofSheet(bare)).join(' ')
    expect(all).toContain('No area carries holography.')
    expect(all).toContain('The checks found nothing.')
    expect(all).toContain('None.')
  })
})
