import { describe, expect, it } from 'vitest'
import { readArt } from '../../../core/art/read.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { type ByteSource, memorySource } from '../../../core/base/source.ts'
import { Cancelled } from '../../../core/base/task.ts'
import { artBytes, artNames, decodeEverything, openFixture } from './files.ts'

async function refusal(source: ByteSource, memoryBudget?: number): Promise<BadInput> {
  try {
    await decodeEverything(source, memoryBudget === undefined ? {} : { memoryBudget })
  } catch (error) {
    if (error instanceof BadInput) return error
    throw error
  }
  throw new Error(`${source.name} was read`)
}

const good = () => artBytes('psd__testdata_cmyk8bit.psd')

/** A copy of a good file with 32-bit numbers written over at given offsets. */
function patched(...changes: readonly (readonly [at: number, value: number])[]): Uint8Array {
  const bytes = good()
  const view = new DataView(bytes.buffer)
  for (const [at, value] of changes) view.setUint32(at, value)
  return bytes
}

/** What each file, broken on purpose by its makers, is answered with: a refusal at a place, or a finding. */
const broken: Readonly<Record<string, readonly ['refused' | 'finding', code: string, place: string]>> = {
  'file-channel-count-too-large': ['refused', 'channel-count', 'byte 12'],
  'file-color-mode-invalid': ['refused', 'color-mode', 'byte 24'],
  'file-image-depth-0': ['refused', 'depth', 'byte 22'],
  'file-image-depth-17': ['refused', 'depth', 'byte 22'],
  'file-image-depth-64': ['refused', 'depth', 'byte 22'],
  'file-image-height-300001': ['refused', 'size', 'byte 14'],
  'file-image-height-30001': ['refused', 'size', 'byte 14'],
  'file-image-width-300001': ['refused', 'size', 'byte 18'],
  'file-image-width-30001': ['refused', 'size', 'byte 18'],
  'file-reserved-nonzero': ['finding', 'reserved-bytes', 'byte 6'],
  'file-signature-invalid': ['refused', 'not-art', 'byte 0'],
  'file-version-invalid': ['refused', 'version', 'byte 4'],
  'image-compression-invalid': ['finding', 'picture-missing', 'flattened picture, byte 23400'],
  'layer-blend-mode-key-invalid': ['finding', 'blend-unknown', 'layer 1 "a layer"'],
  'layer-blend-mode-signature-invalid': ['refused', 'layer-record', 'layer 1, byte'],
  'layer-channel-compression-invalid': ['refused', 'compression', 'layer 1 "a layer", channel 0'],
  'layer-channel-kind-invalid': ['finding', 'channel-unknown', 'layer 1 "a layer"'],
  'layer-clipping-invalid': ['finding', 'clipping-unknown', 'layer 1 "a layer"'],
  'layer-section-divider-invalid': ['finding', 'group-marker-unknown', 'layer 1 "</Layer group>"'],
}

describe('files broken on purpose', () => {
  it.each(Object.entries(broken))('%s', async (short, [answer, code, place]) => {
    const name = artNames.find(n => n.startsWith(`psd__errors_${short}.`))!
    if (answer === 'refused') {
      const error = await refusal(memorySource(name, artBytes(name)))
      expect(error.code).toBe(code)
      expect(error.message).toContain(`${name}: ${place}`)
      return
    }
    const { art } = await openFixture(name)
    const found = [...art.findings, ...art.layers.flatMap(l => l.findings)].find(f => f.code === code)
    expect(found?.where).toContain(place)
    expect(found?.fix).not.toBe('')
  })

  it('leaves none of them out', () => {
    // The two of other depths and those called original are whole files, which read.test.ts reads.
    const whole = /original|image-depth-(16|32)\./
    const named = Object.keys(broken).map(short => `psd__errors_${short}`)
    const files = artNames.filter(n => n.includes('errors_') && !(whole.test(n) && !n.includes('file-image')))
    expect(files.map(n => n.replace(/\.ps[db]$/, '')).sort()).toEqual(named.sort())
  })

  it('still gives the layers when only the flattened picture is lost', async () => {
    const file = await openFixture('psd__errors_image-compression-invalid.psd')
    expect(file.art.hasComposite).toBe(false)
    const [layer] = file.art.layers
    expect((await file.layerPlane(layer!.id, 0))?.data.length).toBe(50 * 50)
    await expect(file.documentPlane(0)).rejects.toThrow(BadInput)
  })
})

describe('input that cannot be used', () => {
  it.each([
    ['nothing at all', new Uint8Array(0), 'empty'],
    ['two bytes', new Uint8Array([56, 66]), 'not-art'],
    ['a picture of another kind', new Uint8Array(100).fill(0x89), 'not-art'],
    ['PostScript', new TextEncoder().encode('%!PS-Adobe-3.0'), 'not-art'],
    ['the signature alone', new TextEncoder().encode('8BPS'), 'cut-short'],
    ['300 001 pixels high', patched([14, 300_001]), 'size'],
    ['no pixels wide', patched([18, 0]), 'size'],
    ['layers that go on for 4 GiB', patched([lengthAt(), 0xfffffff0]), 'cut-short'],
    ['resources that go on for 4 GiB', patched([30, 0xfffffff0]), 'cut-short'],
  ])('%s', async (_, bytes, code) => {
    const error = await refusal(memorySource('art.psd', bytes))
    expect(error.code).toBe(code)
    expect(error.message).toMatch(/^art\.psd: (byte \d+|layer \d+.*): .+\. .+\.$/)
  })

  /** Where the length of the layer section stands in the good file. */
  function lengthAt(): number {
    const view = new DataView(good().buffer)
    return 30 + view.getUint32(26) + 4 + view.getUint32(30 + view.getUint32(26))
  }

  it('is refused before anything is allocated when a plane is above the memory budget', async () => {
    const error = await refusal(memorySource('art.psd', good()), 64 * 64 - 1)
    expect(error.code).toBe('too-large')
    expect(error.message).toContain('64 × 64 pixels')
  })

  it('that vanishes while it is read is told with the reason', async () => {
    const bytes = good()
    let reads = 0
    const source: ByteSource = {
      name: 'gone.psd',
      size: bytes.length,
      read: async (offset, length) => {
        if (++reads > 4) throw new Error('no such file')
        return bytes.subarray(offset, offset + length)
      },
    }
    const error = await refusal(source)
    expect(error.code).toBe('unreadable')
    expect(error.message).toContain('no such file')
  })

  it('that shrank while it is read is told', async () => {
    const bytes = good()
    const source = { name: 'short.psd', size: bytes.length, read: async () => bytes.subarray(0, 3) }
    expect((await refusal(source)).code).toBe('unreadable')
  })
})

describe('cancelling', () => {
  it('stops the reading with Cancelled', async () => {
    const signal = { aborted: true }
    const source = memorySource('art.psd', good())
    await expect(readArt(source, {}, { signal: signal as AbortSignal })).rejects.toThrow(Cancelled)
  })

  it('reports progress from 0 to 1', async () => {
    const seen: number[] = []
    await readArt(
      memorySource('art.psd', artBytes('psd-tools__blend-modes_cmyk-blend-modes.psd')),
      {},
      {
        progress: done => seen.push(done),
      },
    )
    expect(seen.length).toBeGreaterThan(100)
    expect(Math.min(...seen)).toBeGreaterThanOrEqual(0)
    expect(Math.max(...seen)).toBe(1)
  })
})
