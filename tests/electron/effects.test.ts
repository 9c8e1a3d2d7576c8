import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, describe, expect, it } from 'vitest'
import type { CatalogueEntry } from '../../core/effects/catalogue.ts'
import { effectKinds } from '../../core/effects/kinds.ts'
import { runCli } from '../support/run-cli.ts'

const folder = mkdtempSync(join(tmpdir(), 'rakelight-effects-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const demo = fileURLToPath(new URL('../../demo-assets/demo.job.json', import.meta.url))

describe('rakelight effects', () => {
  it('lists every kind with its parameters and limits', async () => {
    const { code, out } = await runCli('effects', '--json')
    expect(code).toBe(0)
    const { kinds } = JSON.parse(out) as { kinds: CatalogueEntry[] }
    expect(kinds.map(one => one.kind)).toEqual(effectKinds.map(one => one.name))
    expect(kinds.length).toBeGreaterThanOrEqual(15)
    for (const [i, { parameters, limits }] of kinds.entries()) {
      // Nothing that an effect takes is left out.
      expect(parameters.map(one => one.key).sort()).toEqual(Object.keys(effectKinds[i]!.defaults).sort())
      expect(limits.smallestMm).toBeGreaterThan(0)
    }
    const highlight = kinds.find(one => one.kind === 'highlight')
    expect(highlight?.parameters.find(one => one.key === 'repeatMm')).toMatchObject({
      unit: 'mm',
      min: 1,
      max: 5000,
      default: 60,
    })
  })

  it('says in words what one does', async () => {
    const { code, out } = await runCli('effects', 'facets')
    expect(code).toBe(0)
    expect(out).toContain('facets: Facets')
    expect(out).toMatch(/facetMm +0\.1\.\.100 mm +4 mm +Size of a facet/)
  })

  it.each<[string[], string]>([
    [['effects', 'aurora'], 'there is no kind "aurora"; there are plain, crossed'],
    [['effects', '--map', demo], '--map JOB and --out FILE go together'],
  ])('%j is a slip', async (args, words) => {
    const { code, err } = await runCli(...args)
    expect(code).toBe(2)
    expect(err).toContain(words)
  })

  it('draws the areas of a job with a legend', async () => {
    const target = join(folder, 'areas.svg')
    const { code, err } = await runCli('effects', '--map', demo, '--out', target)
    expect(code).toBe(0)
    expect(err).toContain('Wrote')
    const svg = readFileSync(target, 'utf8')
    // The demo carton has five layers of holography; each has a shape or is said to have none.
    expect([...svg.matchAll(/mm²<\/text>/g)]).toHaveLength(5)
    expect(svg.startsWith('<svg')).toBe(true)
  })
})
