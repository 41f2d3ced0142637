// The page in headless Chromium, driven by mouse and keys, read through the same report as the window's (?report).
import assert from 'node:assert/strict';
import {mkdirSync} from 'node:fs';
import {join} from 'node:path';
import {chromium} from 'playwright-core';

export const pictures = process.env.SWASHWRIGHT_PICTURES;
export const house = process.env.SWASHWRIGHT_HOUSE;

export function openBrowser() {
    return chromium.launch({executablePath: process.env.SWASHWRIGHT_CHROMIUM,
        args: ['--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--no-sandbox']});
}

export const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

export class DrivenPage {
    /// `address`: of the page, with what follows it.
    static async open(context, address, {safetyRead = true} = {}) {
        const driven = new DrivenPage();
        driven.errors = [];
        driven.requests = [];
        const page = driven.page = await context.newPage();
        page.on('console', (message) => {
            if (['error', 'warning'].includes(message.type())) driven.errors.push(message.text());
        });
        page.on('pageerror', (error) => driven.errors.push(String(error)));
        page.on('request', (request) => driven.requests.push(request.url()));
        await page.goto(address);
        await driven.started();
        if (safetyRead && (await driven.value('dialog')) === 1) await driven.click('read');
        return driven;
    }

    async started() {
        await this.page.waitForFunction(() => document.getElementById('words').hidden, null, {timeout: 60000});
        await this.until((report) => report.frame >= 2);
    }

    report() {
        return this.page.evaluate(() => {
            try {
                return JSON.parse(new TextDecoder().decode(Module.FS.readFile('/report.json')));
            } catch {
                return {values: {}, widgets: {}, frame: 0};
            }
        });
    }
    async value(name) {
        return (await this.report()).values[name];
    }
    async sentence() {
        return (await this.report()).sentence;
    }
    /// Fails by what was waited for.
    async until(holds, seconds = 30) {
        for (const end = Date.now() + 1000 * seconds; Date.now() < end; await pause(50))
            if (holds(await this.report())) return;
        const report = await this.report();
        assert.fail(`waited in vain for ${holds}; dialog ${report.values.dialog}, ${report.values.dialog_error}, ` +
            `"${report.sentence}"`);
    }
    /// A place of a widget in pixels of the page; shares from its left and top.
    async place(widget, x = 0.5, y = 0.5) {
        await this.until((report) => report.widgets[widget] !== undefined, 10).catch(async () => {
            const widgets = Object.keys((await this.report()).widgets);
            assert.fail(`no ${widget} in sight, but ${widgets.join('; ')}`);
        });
        const ratio = await this.page.evaluate(() => devicePixelRatio);
        const [left, top, right, bottom] = (await this.report()).widgets[widget];
        return [(left + x * (right - left)) / ratio, (top + y * (bottom - top)) / ratio];
    }
    async click(widget) {
        const [x, y] = await this.place(widget);
        await this.page.mouse.move(x, y);
        await pause(120);
        await this.page.mouse.down();
        await pause(80);
        await this.page.mouse.up();
        await pause(200);
    }
    async drag(widget, x, y) {
        const mouse = this.page.mouse;
        await mouse.move(...await this.place(widget));
        await pause(120);
        await mouse.down();
        await pause(80);
        await mouse.move(...await this.place(widget, x, y), {steps: 4});
        await pause(150);
        await mouse.up();
        await pause(150);
    }
    async key(name) {
        await this.page.keyboard.press(name, {delay: 60});
        await pause(200);
    }
    async type(text) {
        await this.key('Control+a');
        await this.page.keyboard.type(text, {delay: 30});
        await this.key('Enter');
    }
    async typeInto(widget, text) {
        await this.click(widget);
        await this.type(text);
    }
    async picture(name) {
        if (!pictures) return;
        mkdirSync(pictures, {recursive: true});
        await this.page.screenshot({path: join(pictures, `${name}.png`)});
    }
    /// Hands a file in, by the picker of the dialog that is open.
    async handIn(files) {
        const chooser = this.page.waitForEvent('filechooser');
        await this.click('hand in');
        await (await chooser).setFiles(files);
    }
    /// Lets a file go over the page.
    async drop(name, text) {
        const data = await this.page.evaluateHandle(([n, t]) => {
            const transfer = new DataTransfer();
            transfer.items.add(new File([t], n));
            return transfer;
        }, [name, text]);
        await this.page.dispatchEvent('#head', 'drop', {dataTransfer: data});
    }
    /// What the browser has been asked to keep is kept.
    async stored() {
        await pause(600);
        await this.page.evaluate(() => new Promise((resolve) => Module.FS.syncfs(false, resolve)));
    }
}
