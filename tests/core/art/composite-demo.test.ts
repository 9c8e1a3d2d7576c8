import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { compositeDifference } from '../../../core/art/composite-difference.ts'
import { leftOut } from '../../../core/art/composite-findings.ts'
import type { ArtFile } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import type { Job } from '../../../core/job/job.ts'
import { parseJob } from '../../../core/job/parse.ts'
import { samplePath } from '../../../core/job/path.ts'
import { assignRoles } from '../../../core/roles/assign.ts'
import { modules, number, withCheck } from '../../../demo-assets/barcode.ts'
import { makeArt, makeJob } from '../../../demo-assets/make.ts'

const path = 'demo-assets/demo.psd'
const bytes = readFileSync(path)
const jobText = readFileSync('demo-assets/demo.job.json', 'utf8')

let file: ArtFile
let job: Job
beforeAll(async () => {
  file = await readArt(memorySource('demo.psd', bytes))
  job = parseJob(jobText, 'demo.job.json')
})

describe('the demo file', () => {
  it('is small, and what its script draws', async () => {
    expect(bytes.length).toBeLessThanOrEqual(20e6)
    const profile = readFileSync('core/data/icc/ISOcoated_v2_300_bas.icc')
    const made = await readArt(memorySource('made.psd', await makeArt(profile)))
    expect({ ...made.art, name: '', profile: null }).toEqual({ ...file.art, name: '', profile: null })
    expect(Buffer.compare(made.art.profile!.bytes, profile)).toBe(0)
    expect(Buffer.compare(file.art.profile!.bytes, profile)).toBe(0)
    // Sines of another engine may move a sample across a rounding edge, and no further.
    for (let plane = 0; plane < 5; plane++) {
      const [a, b] = [(await made.documentPlane(plane)).data, (await file.documentPlane(plane)).data]
      expect(a.every((v, i) => Math.abs(v - b[i]!) <= 1)).toBe(true)
    }
  })

  it('carries its picture, and nothing that our picture leaves out', async () => {
    expect(leftOut(file.art)).toEqual([])
    // The stored picture is rounded to 8 bits: a uniform error of a 255th has 10·log10(12·255²) = 58.9 dB.
    expect(await compositeDifference(file)).toHaveProperty(
      'psnr',
      expect.toSatisfy((v: number) => v >= 58.9),
    )
  })

  it('has a white plate that is solid, half and rising', async () => {
    const white = file.art.channels.find(channel => channel.name === 'White')!
    expect(white.kind).toBe('spot')
    const { data } = await file.documentPlane(white.plane)
    const coverage = (xMm: number, yMm: number) =>
      1 - data[(1772 - Math.floor(yMm * (300 / 25.4)) - 1) * 1181 + Math.floor(xMm * (300 / 25.4))]! / 255
    expect(coverage(78, 17)).toBe(1)
    // Beside the comet's core, in its halo; 8-bit steps.
    expect(Math.abs(coverage(15, 113) - 0.5)).toBeLessThan(1 / 255)
    expect(coverage(5, 60)).toBe(0)
    expect(coverage(50, 5)).toBeGreaterThan(coverage(50, 20))
  })

  it('gets every role from the rules', () => {
    const roles = new Map(assignRoles(file.art, { aliases: [], choices: [] }).map(a => [a.target.id, a.role]))
    const roleOf = (name: string) => roles.get(file.art.layers.find(layer => layer.name === name)!.id)
    expect(file.art.layers.filter(l => l.name.startsWith('Holo')).map(l => roleOf(l.name))).toEqual(
      Array(6).fill('holography'),
    )
    expect(roleOf('Substrate metallised board')).toBe('substrate')
    expect(roleOf('Sky')).toBe('overprint')
    expect(roleOf('Dieline')).toBe('dieline')
    expect(roleOf('Legend')).toBe('legend')
  })
})

describe('the demo job', () => {
  it('names the file as it is, and is what the script writes', async () => {
    expect(job.art).toEqual({ path: 'demo.psd', sha256: sha256(bytes) })
    // What a fresh job starts with may change; what the demo sets may not.
    const made = parseJob(await makeJob(bytes), 'made.job.json')
    for (const part of ['art', 'panel', 'roles', 'effects', 'whites', 'paths'] as const)
      expect(job[part]).toEqual(made[part])
    expect(job.light.lamps[0].pose).toEqual(made.light.lamps[0].pose)
  })

  it('turns neither lamp nor panel faster than 10° a second', () => {
    const turning = ({ azimuthDeg, elevationDeg }: { azimuthDeg: number; elevationDeg: number }) => {
      const [a, e] = [(azimuthDeg * Math.PI) / 180, (elevationDeg * Math.PI) / 180]
      return [Math.cos(e) * Math.cos(a), Math.cos(e) * Math.sin(a), Math.sin(e)] as const
    }
    const step = 0.05
    for (const lampPath of job.paths)
      for (let t = 0; t < lampPath.keys.at(-1)!.timeS; t += step) {
        const [p, q] = [samplePath(lampPath, t), samplePath(lampPath, t + step)]
        const [u, v] = [turning(p.lamp), turning(q.lamp)]
        const angle = (Math.acos(Math.min(1, u[0] * v[0] + u[1] * v[1] + u[2] * v[2])) * 180) / Math.PI
        expect(angle / step).toBeLessThanOrEqual(10)
        const tilt = Math.hypot(
          q.pose.tiltForwardDeg - p.pose.tiltForwardDeg,
          q.pose.tiltSideDeg - p.pose.tiltSideDeg,
        )
        expect(tilt / step).toBeLessThanOrEqual(10)
      }
  })
})

describe('the bar code', () => {
  // GS1 General Specifications, section 7.9: check digit of 629104150021 is 3.
  it('has the check digit that the standard works out', () => {
    expect(withCheck('629104150021')).toBe('6291041500213')
  })

  it('is 95 modules between guards, and as many bars as the code has', () => {
    const bits = modules(number)
    expect(bits).toHaveLength(95)
    expect(bits.match(/1+/g)).toHaveLength(30)
    expect([bits.slice(0, 3), bits.slice(45, 50), bits.slice(92)]).toEqual(['101', '01010', '101'])
  })
})

function installed(tool: string): boolean {
  try {
    execFileSync(tool, ['--version'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
}

describe('read by others', () => {
  it.skipIf(!installed('identify'))('ImageMagick finds size, mode, resolution and every layer', () => {
    const lines = execFileSync('identify', ['-format', '%w %h %[colorspace] %z %x|', path])
      .toString()
      .split('|')
    expect(lines[0]).toMatch(/^1181 1772 CMYK 8 300/)
    const withPixels = file.art.layers.filter(layer => layer.kind !== 'group')
    expect(lines.filter(line => line !== '')).toHaveLength(1 + withPixels.length)
  })

  it.skipIf(!installed('convert'))(
    'ImageMagick decodes the flattened picture to the samples that we read',
    async () => {
      const raw = execFileSync('convert', [`${path}[0]`, '-depth', '8', 'cmyk:-'], { maxBuffer: 2 ** 26 })
      expect(raw.length).toBe(1181 * 1772 * 4)
      for (let plane = 0; plane < 4; plane++) {
        const { data } = await file.documentPlane(plane)
        // The tool gives ink, the file holds its absence.
        expect(data.every((v, i) => 255 - v === raw[i * 4 + plane])).toBe(true)
      }
    },
  )

  it.skipIf(!installed('vipsheader'))('libvips finds size and mode', () => {
    expect(execFileSync('vipsheader', [path]).toString()).toMatch(/1181x1772 uchar, [45] bands, cmyk/)
  })
})

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}
