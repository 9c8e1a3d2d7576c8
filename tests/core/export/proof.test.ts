import { createHash } from 'node:crypto'
import { inflateSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { decodePng } from '../../../core/base/png.ts'
import { textToBytes } from '../../../core/base/text85.ts'
import { makeProof } from '../../../core/export/proof.ts'
import { sceneWith } from '../../../core/job/scene.ts'
import { minify } from '../../../core/material/mip.ts'
import { openPage } from '../../../core/proof/open-page.ts'
import { proofScene } from '../../../core/proof/scene.ts'
import { versionOf } from '../../../core/proof/version.ts'
import { proofInput } from '../../support/proof-input.ts'

const count = (text: string, part: string) => text.split(part).length - 1

describe('the one file of a proof', () => {
  const input = proofInput()
  const { page, manifest } = makeProof(input)

  test('is read again with its map byte for byte, its scene and what it tells', () => {
    const opened = openPage(page, 'comet.proof.html')
    expect(opened.manifest).toEqual(JSON.parse(JSON.stringify(manifest)))
    expect(opened.map()).toEqual(input.map)
    const { job } = input.of
    expect(
      proofScene(opened.manifest, { light: 0, lamp: null, pose: job.view.pose, overlay: job.view.overlay }),
    ).toEqual(JSON.parse(JSON.stringify(sceneWith(job, job.light.lamps[0].pose, job.view.pose))))
    expect(manifest.lights[0]?.name).toBe('As in the job')
    expect(manifest.assumed.find(one => one.name === 'Waviness of the board')).toMatchObject({
      value: `${input.of.job.board.wavinessMrad} mrad`,
    })
    expect(manifest.detail).toMatchObject({
      halvings: 0,
      says: 'As fine as the job: 96 × 96 places, 102 an inch.',
    })
  })

  test('is the same for the same input', () => {
    expect(makeProof(proofInput()).page).toBe(page)
  })

  test('its policy allows its two scripts and its styles by their hashes, and nothing else to run or load', () => {
    const policy = /<meta http-equiv="Content-Security-Policy" content="([^"]*)">/.exec(page)?.[1] ?? ''
    const hash = (text: string) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`
    const run = [...page.matchAll(/<script>([\s\S]*?)<\/script>/g)].map(found => found[1]!)
    const viewer = /<script id="proof-viewer" type="application\/octet-stream">([^<]*)</.exec(page)?.[1] ?? ''
    const unpacked = inflateSync(textToBytes(viewer)).toString()
    const styles = [...page.matchAll(/<style>([\s\S]*?)<\/style>/g)].map(found => found[1]!)
    expect(run).toEqual(['void 0'])
    expect(unpacked).toBe('void 1')
    expect(policy.split('; ')).toEqual([
      "default-src 'none'",
      `script-src ${[...run, unpacked].map(hash).join(' ')}`,
      `style-src ${styles.map(hash).join(' ')}`,
      'img-src data: blob:',
      'worker-src blob:',
      "base-uri 'none'",
      "form-action 'none'",
    ])
    expect(page).not.toMatch(/https?:\/\//)
    // Nothing is drawn before the policy is known.
    expect(page.indexOf('Content-Security-Policy')).toBeLessThan(page.indexOf('<style>'))
  })

  test('the still comes before the planes, and the strip has a picture for each pose', () => {
    const pictures = [...page.matchAll(/src="data:image\/png;base64,([^"]*)"/g)].map(found =>
      decodePng(Buffer.from(found[1]!, 'base64')),
    )
    expect(pictures.map(({ width, height }) => [width, height])).toEqual([
      [32, 24],
      [16, 12],
      [16, 12],
    ])
    expect(manifest.strip.held.map(({ pose }) => pose.tiltForwardDeg)).toEqual([-10, 10])
    // The middle of the panel is not the grey of the table.
    const [still] = pictures
    expect([...still!.data.slice(0, 3)]).not.toEqual([
      ...still!.data.slice(3 * (12 * 32 + 16), 3 * (12 * 32 + 16) + 3),
    ])
    expect(page.indexOf('id="proof-still"')).toBeLessThan(page.indexOf('id="proof-plane-0"'))
  })

  test('scripts and styles that hold a closing tag end nothing', () => {
    const odd = makeProof(
      proofInput({
        scripts: { loader: '"</script><!--"', viewer: '"</script>"', css: 'p::after{content:"</style>"}' },
      }),
    ).page
    expect(count(odd, '</script')).toBe(count(page, '</script'))
    expect(count(odd, '<!--')).toBe(0)
    expect(count(odd, '</style')).toBe(count(page, '</style'))
  })
})

/** Words that would run, load or end something if they became markup. */
const hostile = [
  '<script>alert(1)</script>',
  '</script><script>alert(1)</script>',
  '<!--<script>',
  '--><img src=x onerror=alert(1)>',
  '"><svg onload=alert(1)>',
  "'><iframe srcdoc='<script>alert(1)</script>'>",
  '</title><script>alert(1)</script>',
  '</noscript><img src=x onerror=alert(1)>',
  '<base href="https://example.invalid/">',
  '<meta http-equiv="refresh" content="0;url=https://example.invalid/">',
  '</style><style>@import "https://example.invalid/x.css";</style>',
  ']]>\u2028{{constructor.constructor("alert(1)")()}}<a href="javascript:alert(1)">',
]

test('twelve hostile texts as names of job, layers and areas and as notes stay text', () => {
  const tags = (text: string) => text.match(/<[^>]*>?/g)?.map(tag => tag.replace(/"[^"]*"/g, '""')) ?? []
  const plain = tags(makeProof(proofInput()).page)
  for (const words of hostile) {
    const base = proofInput()
    const { map, of } = base
    const { page } = makeProof({
      ...base,
      of: versionOf({
        ...of,
        jobName: `${words}.job.json`,
        sources: [{ kind: 'art', name: words, sha256: 'ab'.repeat(32), bytes: 1 }],
        job: { ...of.job, brief: words, pins: [{ name: words, xMm: 1, yMm: 1 }] },
      }),
      map: {
        ...map,
        whites: map.whites.map(white => ({ ...white, name: words })),
        areas: [{ id: 1, name: words, layerId: words, effect: words }],
      },
      notes: [
        {
          id: 'note-0001',
          of: null,
          author: words,
          at: '2026-03-04T09:30:00Z',
          text: words,
          place: { xMm: 1, yMm: 1 },
          lamp: of.job.light.lamps[0].pose,
          view: { pose: of.job.view.pose, eye: { sideDeg: 0, riseDeg: 0, distanceMm: 400 } },
          answers: [],
        },
      ],
    })
    expect(tags(page), words).toEqual(plain)
    const { manifest } = openPage(page, 'x.proof.html')
    expect([manifest.of.job.brief, manifest.notes[0]?.text, manifest.map.areas[0]?.name]).toEqual([
      words,
      words,
      words,
    ])
  }
})

describe('detail by budget', () => {
  const large = proofInput()
  // Noise, which nothing makes smaller: 96 × 96 places of 1 byte.
  let state = 7
  const noise = Uint8Array.from({ length: 96 * 96 }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) | 0
    return state >>> 24
  })
  // 203 ppi, so that it can be halved once before type is gone.
  const map = {
    ...large.map,
    pixelsPerMm: 8,
    widthMm: 12,
    heightMm: 12,
    planes: new Map([...large.map.planes, ['C', { layout: 'full' as const, components: 1, data: noise }]]),
  }

  test('a file that fits has the job’s own map; one that does not has the finest level that does, and says so', () => {
    const whole = makeProof({ ...large, map })
    expect(whole.manifest.detail.halvings).toBe(0)
    const size = Buffer.byteLength(whole.page)
    const budget = size - 2000
    const coarser = makeProof({ ...large, map, budget })
    expect(Buffer.byteLength(coarser.page)).toBeLessThanOrEqual(budget)
    expect(coarser.manifest.detail).toMatchObject({ halvings: 1, budget })
    expect(coarser.manifest.detail.says).toMatch(
      /^Coarser than the job, so that the file stays below 0\.\d MB: 48 × 48 places, 102 an inch, where the job has 203\.$/,
    )
    expect(coarser.page).toContain(coarser.manifest.detail.says)
    expect(openPage(coarser.page, 'x').map()).toEqual(minify(map))
  })

  test('a budget that no level fits is refused with the size that would do', () => {
    expect(() => makeProof({ ...large, map, budget: 20_000 })).toThrow(
      /the proof: its size: needs 0\.\d MB even at 102 pixels an inch, and may have 0 MB\. Let it be larger/,
    )
  })

  test('work that is told to stop stops', () => {
    const stop = new AbortController()
    stop.abort()
    expect(() => makeProof(large, { signal: stop.signal })).toThrow('cancelled')
  })
})
