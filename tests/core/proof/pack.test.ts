import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { sha256Hex } from '../../../core/base/sha256.ts'
import type { MapPlane, MaterialMap, PlaneData } from '../../../core/material/map.ts'
import { printTable } from '../../../core/optics/print-table.ts'
import { packPlane, plainPlanes } from '../../../core/proof/pack.ts'
import type { Packed } from '../../../core/proof/planes.ts'
import { printFactors, printPlane } from '../../../core/proof/print-plane.ts'
import { BitReader, BitWriter, even } from '../../../core/proof/range-coder.ts'
import { readManifest, readMap, unpackPlane } from '../../../core/proof/read.ts'
import { inventedCondition } from '../../support/print-condition.ts'

const kinds = { u8: Uint8Array, u16: Uint16Array, i16: Int16Array } as const

/** A map of one plane of every kind and layout. */
const maps = fc
  .record({
    width: fc.integer({ min: 1, max: 150 }),
    height: fc.integer({ min: 1, max: 90 }),
    seed: fc.integer(),
    smooth: fc.boolean(),
  })
  .map(({ width, height, seed, smooth }): MaterialMap => {
    let state = seed | 1
    const random = () => {
      state = (Math.imul(state, 1664525) + 1013904223) | 0
      return state >>> 8
    }
    const fill = <T extends PlaneData>(data: T): T => {
      for (let i = 0; i < data.length; i++) data[i] = smooth ? (i >> 3) + (random() & 1) : random()
      return data
    }
    const planes = new Map<string, MapPlane>()
    for (const [kind, Kind] of Object.entries(kinds))
      for (const components of [1, 2, 4])
        planes.set(`${kind} ${components}`, {
          layout: 'full',
          components,
          data: fill(new Kind(width * height * components)),
        })
    const count = Math.ceil(width / 64) * Math.ceil(height / 64)
    const index = Int32Array.from({ length: count }, (_, i) => (i % 2 === 0 ? (count >> 1) - (i >> 1) : -1))
    const blocks = index.filter(block => block >= 0).length
    for (const [name, components] of [
      ['kappa', 2],
      ['relief', 4],
    ] as const)
      planes.set(name, {
        layout: 'tiles',
        components,
        tile: 64,
        index,
        data: fill(new (name === 'kappa' ? Int16Array : Uint8Array)(blocks * 4096 * components)),
      })
    planes.set('empty', {
      layout: 'tiles',
      components: 2,
      tile: 64,
      index: new Int32Array(count).fill(-1),
      data: new Uint16Array(0),
    })
    return {
      width,
      height,
      pixelsPerMm: 10,
      widthMm: width / 10,
      heightMm: height / 10,
      planes,
      whites: [],
      spots: [],
      print: null,
      varnish: null,
      gratings: [],
      grooves: [],
      areas: [],
    }
  })

const packed = (map: MaterialMap): readonly Packed[] => plainPlanes(map).map(packPlane)

function again({ planes: _, print: __, ...head }: MaterialMap, all: readonly Packed[]): MaterialMap {
  return readMap(
    { map: { ...head, print: null }, planes: all.map(({ entry }) => entry) },
    (_entry, at) => all[at]!.bytes,
    'a.proof.html',
  )
}

/** Quicker than to compare number by number. */
const sameBytes = (a: ArrayBufferView, b: ArrayBufferView): boolean =>
  a.constructor === b.constructor &&
  Buffer.from(a.buffer, a.byteOffset, a.byteLength).equals(Buffer.from(b.buffer, b.byteOffset, b.byteLength))

/** Names of what differs. */
function sameMap(
  { planes: a, ...headA }: MaterialMap,
  { planes: b, ...headB }: MaterialMap,
): readonly string[] {
  expect(headA).toEqual(headB)
  expect([...a.keys()]).toEqual([...b.keys()])
  return [...a].flatMap(([name, plane]) => {
    const other = b.get(name)!
    const { data, ...rest } = plane.layout === 'tiles' ? { ...plane, index: [...plane.index] } : plane
    const { data: wanted, ...want } = other.layout === 'tiles' ? { ...other, index: [...other.index] } : other
    expect(rest).toEqual(want)
    return sameBytes(data, wanted) ? [] : [name]
  })
}

describe('planes of a proof', () => {
  test('every kind and layout comes back byte for byte', () => {
    fc.assert(
      fc.property(maps, map => {
        expect(sameMap(again(map, packed(map)), map)).toEqual([])
      }),
      { numRuns: 20 },
    )
  })

  test('any yes and no come back, and what is foreseen costs little', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 1 }))),
        bits => {
          const writer = new BitWriter()
          const written = even(4)
          for (const [at, bit] of bits) writer.bit(written, at, bit)
          const reader = new BitReader(writer.finish())
          const read = even(4)
          expect(bits.map(([at]) => reader.bit(read, at))).toEqual(bits.map(([, bit]) => bit))
          expect(reader.isAtEnd).toBe(true)
        },
      ),
    )
    const writer = new BitWriter()
    const chances = even(1)
    for (let i = 0; i < 80_000; i++) writer.bit(chances, 0, 0)
    // The surest chance leaves 1/1000, which costs 0.0014 bit: 80 000 are 14 bytes, and as many to get sure.
    expect(writer.finish().length).toBeLessThan(40)
  })

  test('a run of bytes that a carry goes through comes back', () => {
    // Chances that lie nearly at the end of the range make low ends of 0xffff…: the carry then travels far.
    const bits = Array.from({ length: 20_000 }, (_, i) => (i % 97 === 0 ? 0 : 1))
    const writer = new BitWriter()
    const written = even(1)
    for (const bit of bits) writer.bit(written, 0, bit)
    const reader = new BitReader(writer.finish())
    const read = even(1)
    expect(bits.every(bit => reader.bit(read, 0) === bit)).toBe(true)
  })

  test('an index that planes share is packed once and shared again', () => {
    const [map] = fc.sample(maps, { numRuns: 1, seed: 7 })
    const all = packed(map!)
    expect(all.map(({ entry }) => entry.name).filter(name => name.startsWith('tiles'))).toEqual([
      'tiles 1',
      'tiles 2',
    ])
    const { planes } = again(map!, all)
    const [kappa, relief] = ['kappa', 'relief'].map(name => planes.get(name))
    expect(kappa?.layout === 'tiles' && relief?.layout === 'tiles' && kappa.index === relief.index).toBe(true)
  })

  test('a print condition keeps all that a picture reads of it', () => {
    const whole = inventedCondition()
    const kept = { ...whole, factors: printFactors(printPlane(whole).data) }
    for (const lamp of ['D50', 'A'] as const) {
      const [before, after] = [whole, kept].map(condition =>
        printTable({ condition, toneGain: [0, 0, 0, 0] }, lamp),
      )
      expect(sameBytes(after!.data, before!.data)).toBe(true)
    }
  })
})

describe('a damaged plane', () => {
  const plane = {
    name: 'white1',
    components: 1,
    columns: 40,
    rows: 30,
    tiles: null,
    data: Uint8Array.from({ length: 1200 }, (_, i) => i >> 4),
  } as const
  const { entry, bytes } = packPlane(plane)
  const refused = (change: Partial<typeof entry>, data = bytes) =>
    expect(() => unpackPlane({ ...entry, ...change }, data, 'a.proof.html'))

  test('is named, with what is wrong and what to do', () => {
    expect(unpackPlane(entry, bytes, 'a.proof.html')).toEqual(plane.data)
    refused({}, bytes.slice(1)).toThrow(
      `a.proof.html: plane "white1": has ${bytes.length - 1} bytes where ${bytes.length} were written. Ask for the file again, or make the proof anew`,
    )
    const flipped = bytes.slice()
    flipped[5]! ^= 1
    refused({}, flipped).toThrow('plane "white1": is not what its hash says')
    for (const other of [bytes.slice(0, -9), Uint8Array.of(...bytes, 1), bytes.map(byte => byte ^ 0x5a)])
      refused({ sha256: sha256Hex(other), bytes: other.length }, other).toThrow(
        'plane "white1": cannot be unpacked',
      )
    refused({ packing: 'another' as 'foretold' }).toThrow(
      'is packed as "another", which this version cannot read',
    )
  })

  test('or a lost one is named', () => {
    const [map] = fc.sample(maps, { numRuns: 1, seed: 7 })
    const all = packed(map!)
    const read = (lost: string) =>
      expect(() =>
        readMap(
          { map: { ...map!, print: null }, planes: all.map(one => one.entry) },
          (one, at) => (one.name === lost ? null : all[at]!.bytes),
          'a.proof.html',
        ),
      )
    read('relief').toThrow('plane "relief": is not there')
    read('tiles 1').toThrow('plane "tiles 1": is not there')
  })
})

describe('the description of a proof', () => {
  test('another format, a newer version and a text that was cut are refused with words', () => {
    const read = (text: string) => expect(() => readManifest(text, 'a.proof.html'))
    read('{"format":"rakelight-proof"').toThrow('its description: is not whole. Ask for the file again')
    read('{"format":"something"}').toThrow('expected "rakelight-proof"')
    read('[]').toThrow('expected "rakelight-proof"')
    read('{"format":"rakelight-proof","version":2}').toThrow(
      'was written by a newer rakelight (version 2; this one reads up to 1). Update rakelight on this machine',
    )
  })
})
