// @ts-check
/**
 * How many pairs stand at each verdict, on the page and for screen readers.
 */
import { element, sign } from './dom.js';
import { VERDICTS } from './messages.js';

/** More changed cells than this are only counted when announced. */
const MOST_NAMED = 4;

export class Totals {
  /**
   * @param {HTMLElement} place
   * @param {import('./announcer.js').Announcer} announcer
   */
  constructor(place, announcer) {
    this.place = place;
    this.announcer = announcer;
    this.text = '';
    /** @type {Map<number, string>} what has changed since it was last said */
    this.news = new Map();
  }

  /**
   * @param {Uint8Array} cells
   * @param {{index: number, text: string}[]} news
   */
  update(cells, news) {
    const counts = [0, 0, 0];
    let alone = 0;
    for (let second = 0, index = 0; 2 * index < cells.length; second += 1) {
      for (let first = 0; first <= second; first += 1, index += 1) {
        if (first !== second) counts[cells[2 * index]] += 1;
        else if (VERDICTS[cells[2 * index]] === 'faulty') alone += 1;
      }
    }
    const bad = alone ? [`${alone} ${alone === 1 ? 'profile faulty by itself' : 'profiles faulty by themselves'}`] : [];
    const text = [...VERDICTS.map((verdict, index) => `${counts[index]} ${verdict}`), ...bad].join(', ');
    if (text !== this.text) {
      this.place.replaceChildren(...VERDICTS.map((verdict, index) => element('span', { class: `count count-${verdict}` }, sign(verdict), `${counts[index]} ${verdict}`)),
        ...bad.map((words) => element('span', { class: 'count count-faulty' }, sign('faulty'), words)));
      this.text = text;
    }
    // Before there is a pair there is nothing to count.
    this.place.hidden = cells.length < 6 && !alone;
    this.say(news, text);
  }

  /**
   * @param {{index: number, text: string}[]} news
   * @param {string} text
   */
  say(news, text) {
    if (!news.length) return;
    for (const { index, text: words } of news) this.news.set(index, words);
    const named = this.news.size <= MOST_NAMED ? `${[...this.news.values()].join('. ')}. ` : '';
    this.announcer.announce(`${named}Pairs: ${text}.`);
    clearTimeout(this.forget);
    this.forget = setTimeout(() => this.news.clear(), 600);
  }
}
