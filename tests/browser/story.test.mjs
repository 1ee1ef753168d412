// A newcomer, from the guided start to the handover file: a table of one zone, a room drawn by hand, a detector and a camera
// dropped, the zone wired; its links turn from unanswered to proven one after the other.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { at, base, begin, end, person, saved, shown, siteNow, until } from './page.mjs';

before(begin);
after(end);

const kTable = 'number,name,type,arrangement,eol_ohm,alarm_ohm,tolerance_pct,detector,contacts_complete,cable,cable_m,input\n1,Shop floor,intruder,DEOL,5k6,5k6,1,pir_wide_12m,yes,alarm_6x0_22,18,1\n';

/** Fields of a thing, as the form has them: typed, chosen, ticked. */
async function enter(page, site, thing, values) {
  for (const [key, value] of Object.entries(values)) {
    const id = `f${`${thing}/${key}`.replace(/\W/g, '-')}`;
    const entry = page.locator(`[id="${id}"]`);
    if (!(await entry.isVisible())) await page.goto(at(site, `edit?at=${thing}/${key}`));
    await entry.waitFor();
    if ((await entry.evaluate((one) => one.localName)) === 'select') await entry.selectOption(value === true ? 'yes' : value === false ? 'no' : String(value));
    else if (value === 'none') await page.locator('.field', { has: entry }).getByRole('checkbox').check();
    else {
      await entry.fill(String(value));
      await entry.press('Tab');
    }
  }
}
/** Rows from a spreadsheet, put where a table asks for a new name. */
async function paste(page, site, table, ...rows) {
  await shown(page, site, `tables/${table}`);
  await page.evaluate((text) => navigator.clipboard.writeText(text), rows.map((cells) => cells.join('\t')).join('\n'));
  await page.getByPlaceholder('Name of the new one').focus();
  await page.keyboard.press('Control+v');
  await page.getByText(`New entries: ${rows.length - 1}.`).waitFor();
}
async function fromShelf(page, site, ...parts) {
  for (const part of parts) {
    await shown(page, site, `parts/${part}`);
    await page.getByRole('button', { name: 'Take into this site' }).click();
    await until(async () => part in (await siteNow(site)).document.parts, `${part} is in the site`);
  }
}
/** Waits until a link of the zone has its verdict; the verdicts of all five. */
async function link(page, site, zone, wanted, verdict) {
  await shown(page, site, `zone/${zone}/${wanted}`);
  const links = page.locator('nav[aria-label="Links of the chain"] a');
  await links.filter({ hasText: new RegExp(wanted, 'i') }).filter({ hasText: verdict }).waitFor({ timeout: 30_000 });
  return links.allInnerTexts();
}
/** A place of the plan in pixels of the window. */
const onPlan = (page, x, y) =>
  page.locator('svg[role=application]').evaluate((svg, [east, north]) => {
    const { x: left, y: top } = new DOMPoint(east, -north).matrixTransform(svg.getScreenCTM());
    return { x: left, y: top };
  }, [x, y]);
async function rectangle(page, from, to) {
  const [a, b] = [await onPlan(page, ...from), await onPlan(page, ...to)];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await page.mouse.move((a.x + b.x) / 2, (a.y + b.y) / 2, { steps: 3 });
  await page.mouse.move(b.x, b.y, { steps: 3 });
  await page.mouse.up();
}

test('a newcomer draws a room, drops a detector and a camera, wires the zone, sees its links proven and prints the handover file', async () => {
  const { context, page, faults } = await person({ height: 1000 });
  await context.grantPermissions(['clipboard-read', 'clipboard-write'], { origin: new URL(base).origin });

  // The guided start: a table and the parts on the wall.
  await page.goto(base);
  await page.getByRole('button', { name: 'Paste a table' }).click();
  await page.getByLabel('Name of the site').fill('Corner shop');
  await page.getByLabel('Table of zones').fill(kTable);
  for (const [label, part] of [[/^Panel /, 'panel_8_outputs'], [/terminal/i, 'terminal_5v_double_5k6_pu5k6'], [/^Video unit/i, 'unit_8_ranges_1m'], [/^Supply/i, 'panel_supply_3a'], [/^Battery/i, 'battery_17ah'], [/^Rulebook/i, 'european_intruder'], [/^Where the table/, 'measured']])
    await page.getByRole('combobox', { name: label }).selectOption(part);
  await page.getByRole('button', { name: 'Make the site' }).click();
  await page.locator('li.chain', { hasText: 'Shop floor' }).waitFor({ timeout: 30_000 });
  const site = /\/s\/([^/]+)/.exec(page.url())[1];
  const first = await link(page, site, 'shop_floor', 'loop', 'unanswered');
  assert.ok(first.length === 5 && first.every((one) => one.includes('unanswered')), 'nothing is proven of a site that nobody has looked at');

  // A room, drawn; the detector of the table and a camera, dropped.
  await fromShelf(page, site, 'camera_2mp_2_8mm_ir20', 'router_modem', 'ups_1800w_2600wh', 'switch_8_poe_120w', 'data_cat5e', 'output_open_collector_100ma');
  await shown(page, site, 'plan');
  await page.getByRole('button', { name: 'Begin with a ground floor' }).click();
  await page.getByRole('button', { name: 'Room', exact: true }).click();
  await rectangle(page, [0, 0], [6, 5]);
  await until(async () => Object.keys((await siteNow(site)).document.walls ?? {}).length === 1, 'the room is drawn');
  await page.getByRole('button', { name: 'Detector', exact: true }).click();
  const corner = async () => {
    const { x, y } = await onPlan(page, 5.85, 4.85);
    await page.mouse.click(x, y);
  };
  await corner();
  const detector = '/detectors/shop_floor_detector';
  await until(async () => (await siteNow(site)).document.detectors.shop_floor_detector.mount !== undefined, 'the detector of the table is placed, not a second one');
  await enter(page, site, `${detector}/mount`, { z_m: 2.3, bearing_deg: 230, tilt_deg: 0 });
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  await page.getByRole('combobox', { name: 'Part' }).selectOption('camera_2mp_2_8mm_ir20');
  await corner();
  const camera = '/cameras/camera_1';
  await page.locator('[id="f-cameras-camera_1-mount-z_m"]').waitFor();
  await enter(page, site, `${camera}/mount`, { z_m: 2.6, bearing_deg: 230, tilt_deg: -36, roll_deg: 0 });
  await page.getByRole('button', { name: 'Protected place', exact: true }).click();
  await page.getByRole('combobox', { name: 'Zone' }).selectOption('shop_floor');
  await rectangle(page, [1, 1], [4, 3.5]);
  await saved(page);

  // Wiring: feeds, cable, loop.
  await enter(page, site, '/levels/ground', { ceiling_m: 3, lit: true });
  await enter(page, site, '/supplies/supply', { loads_complete: true, batteries_complete: true });
  await enter(page, site, '', { bonds_complete: true });
  await enter(page, site, '/panels/panel', { 'feed/output': 'board', 'feed/cable': 'none', 'feed/fuse_A': 'none', 'access/installer_code': 'known', 'access/locked': false, 'access/free_outputs': 'known' });
  await enter(page, site, detector, { 'feed/from': 'supply', 'feed/output': 'aux2', 'feed/cable': 'shop_floor_cable', 'feed/fuse_A': 'none' });
  await enter(page, site, '/units/unit', { 'feed/output': 'aux1', 'feed/cable': 'none', 'feed/fuse_A': 'none' });
  await enter(page, site, '/batteries/battery', { age_years: 0, blocks_in_parallel: 1 });
  await enter(page, site, '/cables/shop_floor_cable', { cores_in_parallel: 1, joints: 2 });
  await enter(page, site, '/zones/shop_floor/loop', { eol_place: 'at_end', shared_return: 'none', 'contacts/alarm/shunt_ohm': 'none', 'contacts/tamper/shunt_ohm': 'none' });
  const wired = await link(page, site, 'shop_floor', 'loop', 'proven');
  assert.ok(wired.filter((one) => one.includes('proven')).length === 2, `loop and sense, and no more: ${wired}`);

  // The trigger wire, and how the unit learns that the system is armed.
  await paste(page, site, 'partitions', ['name', 'exit_s'], ['House', '45']);
  await paste(page, site, 'outputs', ['name', 'panel', 'part', 'follows', 'active_when', 'mode', 'moment', 'partitions'], ['Output 1', 'Panel', 'output_open_collector_100ma', 'armed', 'disarmed', 'level', 'exit_end', 'House']);
  await enter(page, site, '/zones/shop_floor', { partition: 'house' });
  await enter(page, site, '/units/unit/arming', { output: 'output_1', armed_level: 'high', cable: 'none', pullup_to: 'high', pullup_ohm: '10k' });
  await enter(page, site, '/triggers/shop_floor_trigger', {
    source: 'loop_tap', channel: 1, cable: 'none', at_panel: 'panel', at_input: 1, series_ohm: 'none', pullup_ohm: 'none', pulldown_ohm: 'none',
    'setting/normal_min_V': 1.3, 'setting/normal_max_V': 2.85, 'setting/zone_name': 'Shop floor', 'setting/zone_number': 1, 'setting/zone_type': 'intruder',
  });
  await link(page, site, 'shop_floor', 'trigger', 'proven');

  // What the camera shows, and in which clip.
  await enter(page, site, '/rulebook', { grade: 2, view_rule: 'detect_2014_px_per_m' });
  await enter(page, site, '/units/unit', { 'clip/pre_s': 4, 'clip/post_s': 10, 'clip/sending': 'while_recording', 'clock/source': 'station', 'clock/error_s': 0.5 });
  await enter(page, site, camera, { turn: 'upright', encoded_width_px: 1280, encoded_height_px: 720, streams_complete: true, 'clock/source': 'time_server', 'clock/error_s': 0.5 });
  await page.goto(at(site, `edit?at=${camera}/streams`));
  const streams = page.locator('details[open]', { has: page.locator('summary', { hasText: 'streams' }) });
  await streams.getByPlaceholder('Name of the new one').fill('clip');
  await streams.getByRole('button', { name: 'Add' }).click();
  await enter(page, site, `${camera}/streams/clip`, { frame_kB: 5, key_frame_kB: 20, key_frame_s: 1, rate_control: 'capped', rate_fps: 8, rate_kbps: 256, to: 'unit' });
  await paste(page, site, 'channels', ['number', 'unit', 'camera', 'stream', 'recorder', 'live_only'], ['1', 'Video unit', 'Camera 1', 'clip', 'none', 'no']);
  await link(page, site, 'shop_floor', 'view', 'proven');

  // The way to the operator, from whoever looks after the network: as a spreadsheet.
  await paste(page, site, 'backups', ['name', 'part', 'loads_complete'], ['Mains backup', 'ups_1800w_2600wh', 'yes']);
  await paste(page, site, 'routers', ['name', 'part', 'powered_by', 'forwarded_complete'], ['Router', 'router_modem', 'Mains backup', 'yes']);
  await paste(page, site, 'switches', ['name', 'part', 'powered_by', 'powers_complete'], ['Switch', 'switch_8_poe_120w', 'Mains backup', 'yes']);
  await paste(page, site, 'uplinks', ['name', 'router', 'up_Mbps', 'others_Mbps', 'delay_s', 'power_W', 'powered_by', 'carrier_hold_h'], ['Line', 'Router', '2', '0.2', '0.03', 'none', 'Router', '72']);
  await paste(page, site, 'monitoring_paths', ['name', 'uplink', 'outbound_permitted', 'port', 'shown_s', 'reporting_s', 'category'], ['Station', 'Line', 'yes', '443', '1', '75', 'sp5']);
  await paste(page, site, 'cables', ['name', 'part', 'length_m', 'joints'], ['Data cable', 'data_cat5e', '9', '2']);
  await paste(page, site, 'data_links', ['name', 'a', 'b', 'cable', 'rate_Mbps', 'others_Mbps'], ['Link of the camera', 'Switch', 'Camera 1', 'Data cable', '100', 'none'], ['Link of the unit', 'Switch', 'Video unit', 'none', '100', 'none'], ['Link of the router', 'Switch', 'Router', 'none', '1000', 'none']);
  await paste(page, site, 'networks', ['name', 'range', 'addresses_complete', 'has_pool'], ['Cameras', '192.168.20.0/24', 'yes', 'no']);
  const fixed = ['Cameras', 'fixed'];
  await paste(page, site, 'addresses', ['device', 'network', 'given_by', 'address', 'gateway', 'own_password', 'services_complete'], ['Camera 1', ...fixed, '192.168.20.11', 'none', 'yes', 'yes'], ['Video unit', ...fixed, '192.168.20.16', 'Router', 'yes', 'yes'], ['Router', ...fixed, '192.168.20.1', 'none', 'yes', 'yes']);
  await enter(page, site, camera, { powered_by: 'link_of_the_camera' });
  await enter(page, site, '/units/unit', { monitoring: 'station' });
  const last = await link(page, site, 'shop_floor', 'deliver', 'proven');
  assert.ok(last.every((one) => one.includes('proven')), `the whole chain: ${last}`);

  // The handover file.
  await shown(page, site, 'board');
  await page.locator('li.chain', { hasText: 'proven' }).waitFor();
  await shown(page, site, 'handover');
  await page.getByRole('button', { name: /Make the handover file/ }).click();
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 60_000 }), page.getByRole('link', { name: /handover\.pdf/ }).click({ timeout: 60_000 })]);
  const pdf = readFileSync(await download.path());
  assert.equal(pdf.subarray(0, 5).toString('latin1'), '%PDF-');
  assert.deepEqual(faults, []);
});
