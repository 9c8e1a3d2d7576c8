import { expect, test } from 'vitest'
import { rigs } from '../../../core/job/rigs.ts'
import { roomOf, rooms } from '../../../core/job/rooms.ts'

test('every room is found again by its level, and none by another', () => {
  for (const [i, room] of rooms.entries()) expect(roomOf(room.roomLevel)).toBe(i)
  expect(roomOf(0.2)).toBeNull()
})

test('the room of every rig is one of them', () => {
  for (const rig of rigs) expect(roomOf(rig.light.roomLevel)).not.toBeNull()
})
