import { describe, expect, test } from 'vitest'
import { listed } from '../../../core/checks/run.ts'
import { type ReportInput, reportPage } from '../../../core/export/report.ts'
import { escaped } from '../../../core/export/report-page.ts'
import { assumedNumbers } from '../../../core/job/assumed.ts'
import { setMeasured } from '../../../core/job/edit.ts'
import { setLimit } from '../../../core/job/edit-checks.ts'
import type { MaterialMap } from '../../../core/material/map.ts'
import { checkFinding } from '../../support/check-finding.ts'
import { plainArt, plainJob } from '../../support/job.ts'

const evil = `<script>alert("1")</script>&'`
const map = {
  width: 1200,
  height: 600,
  areas: [
    { id: 0, name: '', layerId: '', effect: '' },
    { id: 1, name: evil, layerId: '7', effect: 'plain' },
  ],
  whites: [{ name: evil, coverage: 'white0', opacity: 0.5, hits: 1, assumed: true }],
  spots: [],
} as unknown as MaterialMap
const input: ReportInput = {
  jobName: `carton ${evil}`,
  job: plainJob,
  art: { ...plainArt, name: evil },
  assigned: [],
  map,
  checked: listed(
    [
      checkFinding({ key: 'a', severity: 'warning', where: evil, message: evil, fix: evil }),
      checkFinding({ key: 'b', where: 'text "Comet"' }),
      checkFinding({ key: 'c' }),
    ],
    [{ key: 'b', reason: evil, by: evil, on: '2026-03-31' }],
  ),
  version: '0.1.0',
  made: '2026-05-01 12:00 UTC',
}
const html = reportPage(input)

describe('report of a job', () => {
  test('escapes every word that comes from the job', () => {
    expect(html).not.toContain('<script')
    expect(html.split(escaped(evil)).length - 1).toBeGreaterThanOrEqual(9)
  })

  test('runs nothing and fetches nothing', () => {
    expect(html).toContain(`default-src 'none'`)
    expect(html).not.toMatch(/\b(src|href)=|url\(|@import|https?:/i)
  })

  test('names every assumed number, and a measured one by its note', () => {
    for (const { name } of assumedNumbers(plainJob)) expect(html).toContain(escaped(name))
    const noted = reportPage({ ...input, job: setMeasured('board.wavinessMrad', 'photo, May')(plainJob) })
    expect(noted).toContain('measured: photo, May')
    const assumed = assumedNumbers(plainJob).length
    expect(html).toContain(`Assumed numbers (${assumed})`)
    expect(noted).toContain(`Assumed numbers (${assumed - 1})`)
  })

  test('lists findings with number and limit, and a waived one with reason and name', () => {
    expect(html).toContain('Findings (3)')
    expect(html).toContain('<th scope="row">Fails</th><td>1</td>')
    expect(html).toContain('<th scope="row">Waived</th><td>1</td>')
    expect(html).toContain(`waived by ${escaped(evil)}, 2026-03-31: ${escaped(evil)}`)
    expect(html).toContain('<td>1.3 :1</td><td>4.5 :1 (by a standard: WCAG 2.2, 1.4.3)</td>')
    expect(reportPage({ ...input, checked: listed([], []) })).toContain('Findings (0)</h2><p>None.</p>')
  })

  test('names the limits that the job sets otherwise', () => {
    expect(html).not.toContain('Limits of its own')
    const own = reportPage({ ...input, job: setLimit('text.contrast', 3, evil)(plainJob) })
    expect(own).toContain(`<td>text.contrast</td><td>3</td><td>${escaped(evil)}</td>`)
  })

  test('says what the carton is, gives groove numbers and cautions', () => {
    expect(html).toContain('101.6 × 50.8 mm')
    expect(html).toContain('1000 nm (1000 lines/mm)')
    expect(html).toContain('not a contract proof')
    expect(html).toContain('Codes need verification')
  })
})
