// The page of a lesson to take home: reads the controls, finds the texts that lie on both sides, and shows what lies between.
// It needs nothing but itself. How the texts are stored is said in coding.py, what lies between two of them in slots.py.
(() => {
  "use strict";
  const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const VALUE = new Uint8Array(128);
  [...LETTERS].forEach((letter, value) => { VALUE[letter.charCodeAt(0)] = value; });
  const PLACE = "¦", SAID = "¬", RUN = /¨(\d+)¨/g;
  const PAUSE_MS = 300;          // so long nothing moves before the words are said again

  function decode(text) {
    const numbers = [];
    let number = 0, factor = 1, zero = false;
    for (let at = 0; at < text.length; at++) {
      const value = VALUE[text.charCodeAt(at)];
      number += (value & 31) * factor;
      factor *= 32;
      if (value > 31) continue;
      if (zero) { for (; number > 0; number--) numbers.push(0); zero = false; }
      else if (number === 0) zero = true;
      else numbers.push(number % 2 ? -(number + 1) / 2 : number / 2);
      number = 0; factor = 1;
    }
    return numbers;
  }

  function summed(differences, extra) {
    let sum = 0;
    return differences.map(one => (sum += one + extra));
  }

  const signs = text => [...text].filter(letter => letter === PLACE || letter === SAID);
  const widthOf = piece => signs(piece).reduce((sum, sign) => sum + (sign === PLACE ? 1 : 2), 0);

  class Set_ {
    constructor(told) {
      Object.assign(this, told);
      const pieces = told.packed.pieces.map(piece => piece.replace(RUN, (_, count) => `L${PLACE} ${PLACE}`.repeat(Number(count))));
      const widths = pieces.map(widthOf), last = new Map();
      this.forms = told.packed.forms.map(form => {
        const used = summed(decode(form.pieces), 1), first = decode(form.first), seen = new Map();
        let at = 0;
        used.forEach(number => {
          const turn = (seen.get(number) || 0) + 1, name = number + "/" + turn, before = last.get(name), start = at;
          seen.set(number, turn);
          for (let column = 0; column < widths[number]; column++, at++) first[at] += before ? before[column] : 0;
          last.set(name, first.slice(start, at));
        });
        return {text: used.map(number => pieces[number]).join(""), first, rows: form.rows, height: form.height, table: null};
      });
      const numbers = decode(told.packed.strips), counted = this.forms.map(() => 0);
      this.strips = [];
      for (let at = 0; at < numbers.length;) {
        const count = numbers[at];
        const kept = summed(numbers.slice(at + 1, at + 1 + count), 0), forms = summed(numbers.slice(at + 1 + count, at + 1 + 2 * count), 0);
        this.strips.push({kept, forms, rows: forms.map(form => counted[form]++)});
        at += 1 + 2 * count;
      }
      let first = 0;
      this.combos.forEach(combo => {
        combo.first = first;
        first += combo.axes.reduce((all, axis, place) => place === this.fine ? all : all * this.axes[axis].length, 1);
      });
    }

    row(number, row) {
      const form = this.forms[number], width = form.first.length;
      if (!form.table) {
        form.table = new Int32Array(width * form.height);
        form.table.set(form.first);
        decode(form.rows).forEach((one, at) => { form.table[at + width] = form.table[at] + one; });
      }
      return form.table.subarray(row * width, (row + 1) * width);
    }

    combo(choices) {
      return this.combos[choices.reduce((at, choice, place) => at * this.choices[place] + choice, 0)];
    }

    axis(choices, place) { return this.axes[this.combo(choices).axes[place]]; }

    text(choices, steps) {
      const combo = this.combo(choices);
      const stop = combo.axes.reduce((at, axis, place) => place === this.fine ? at : at * this.axes[axis].length + steps[place], 0);
      const strip = this.strips[combo.first + stop], step = this.fine < 0 ? 0 : steps[this.fine];
      let after = strip.kept.findIndex(kept => kept >= step);
      if (after < 0) after = strip.kept.length - 1;
      const before = strip.kept[after] === step || after === 0 ? after : after - 1;
      const share = before === after ? 0 : (step - strip.kept[before]) / (strip.kept[after] - strip.kept[before]);
      if (strip.forms[before] !== strip.forms[after]) {
        const nearer = share < 0.5 ? before : after;
        return this.between(strip.forms[nearer], strip.rows[nearer], strip.rows[nearer], 0);
      }
      return this.between(strip.forms[before], strip.rows[before], strip.rows[after], share);
    }

    between(number, oneRow, otherRow, share) {
      const one = this.row(number, oneRow), other = this.row(number, otherRow);
      let at = 0;
      return this.forms[number].text.replace(/[¦¬]/g, sign => {
        if (sign === PLACE) {
          const tenths = one[at] + (other[at] - one[at]) * share;
          at += 1;
          return String(Math.round(tenths) / 10);
        }
        at += 2;
        return saidBetween(one[at - 2], one[at - 1], other[at - 2], other[at - 1], share);
      });
    }
  }

  // The data are packed as RFC 1950 and 1951 say (zlib, deflate); every browser can do this, also those that have no unpacker of their own.
  function unpacked(base64) {
    const packed = Uint8Array.from(atob(base64), letter => letter.charCodeAt(0));
    const LENGTHS = [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258];
    const LENGTH_BITS = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
    const ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
    let out = new Uint8Array(packed.length * 8), written = 0, at = 2, hold = 0, held = 0, last = 0;

    function bits(count) {
      while (held < count) { hold |= packed[at++] << held; held += 8; }
      const value = hold & ((1 << count) - 1);
      hold >>>= count; held -= count;
      return value;
    }
    function put(byte) {
      if (written === out.length) { const larger = new Uint8Array(2 * out.length); larger.set(out); out = larger; }
      out[written++] = byte;
    }
    function book(lengths) {             // how many codes of each length, and the symbols in the order of their codes
      const counts = new Array(16).fill(0), starts = new Array(17).fill(0), symbols = [];
      lengths.forEach(length => { if (length) counts[length]++; });
      for (let length = 1; length < 16; length++) starts[length + 1] = starts[length] + counts[length];
      lengths.forEach((length, symbol) => { if (length) symbols[starts[length]++] = symbol; });
      return {counts, symbols};
    }
    function symbol({counts, symbols}) {
      let code = 0, first = 0, place = 0;
      for (let length = 1; length < 16; length++) {
        code |= bits(1);
        if (code - counts[length] < first) return symbols[place + code - first];
        place += counts[length]; first = (first + counts[length]) << 1; code <<= 1;
      }
      throw new Error("the data of this page are damaged");
    }
    function books() {
      const literals = bits(5) + 257, distances = bits(5) + 1, codes = bits(4) + 4, lengths = new Array(19).fill(0), all = [];
      for (let place = 0; place < codes; place++) lengths[ORDER[place]] = bits(3);
      const short = book(lengths);
      while (all.length < literals + distances) {
        const one = symbol(short);
        if (one < 16) all.push(one);
        else {
          const again = one === 16 ? all[all.length - 1] : 0;
          for (let count = one === 16 ? 3 + bits(2) : one === 17 ? 3 + bits(3) : 11 + bits(7); count > 0; count--) all.push(again);
        }
      }
      return [book(all.slice(0, literals)), book(all.slice(literals))];
    }
    const fixed = () => [book(Array.from({length: 288}, (_, one) => one < 144 ? 8 : one < 256 ? 9 : one < 280 ? 7 : 8)), book(new Array(30).fill(5))];

    while (!last) {
      last = bits(1);
      const kind = bits(2);
      if (kind === 0) {
        hold = held = 0;
        const length = packed[at] | packed[at + 1] << 8;
        at += 4;
        for (let count = length; count > 0; count--) put(packed[at++]);
        continue;
      }
      const [literals, distances] = kind === 1 ? fixed() : books();
      for (let one = symbol(literals); one !== 256; one = symbol(literals)) {
        if (one < 256) { put(one); continue; }
        let length = LENGTHS[one - 257] + bits(LENGTH_BITS[one - 257]);
        const step = symbol(distances), extra = step < 4 ? 0 : (step >> 1) - 1;
        const back = step < 4 ? step + 1 : ((2 + (step & 1)) << extra) + 1 + bits(extra);
        for (; length > 0; length--) put(out[written - back]);
      }
    }
    return new TextDecoder().decode(out.subarray(0, written));
  }

  const power = value => Math.floor(Math.log10(Math.abs(value)));

  function saidBetween(digits, behind, otherDigits, otherBehind, share) {
    const low = digits / 10 ** behind, high = otherDigits / 10 ** otherBehind, value = low + (high - low) * share;
    if (share === 0 || behind === otherBehind) return value.toFixed(behind);
    const most = Math.max(behind, otherBehind);
    if (low && high && value && behind + power(low) === otherBehind + power(high))
      return value.toFixed(Math.min(Math.max(behind + power(low) - power(value), Math.min(behind, otherBehind)), most));
    const said = value.toFixed(most);
    return said.includes(".") ? said.replace(/0+$/, "").replace(/\.$/, "") : said;
  }

  // ---- one explorer on the page

  class Explorer {
    constructor(told, sets) {
      this.told = told;
      this.set = sets[told.set];
      this.root = document.getElementById(told.id);
      this.choices = [...this.root.querySelectorAll("[data-choice]")];
      this.numbers = told.numbers.map(number => this.root.querySelector(`[data-number="${number.name}"]`)).map(box => ({
        slider: box.querySelector("input[type=range]"), shown: box.querySelector("output"), typed: box.querySelector("input[type=text]")}));
      this.message = this.root.querySelector(".message");
      this.pictures = this.root.querySelector(".pictures");
      this.table = this.root.querySelector(".table");
      this.words = this.root.querySelector(".words");
      this.choices.forEach(control => control.addEventListener("change", () => this.chosen()));
      this.numbers.forEach((number, place) => {
        number.slider.addEventListener("input", () => this.slid(place));
        number.typed.addEventListener("change", () => this.wasTyped(place));
      });
      this.root.querySelector(".reset").addEventListener("click", () => { this.say(""); this.goTo(told.start); });
      const asked = this.root.querySelector(".asked");
      if (asked) asked.addEventListener("click", () => { this.say(""); this.goTo(told.asked); });
      const again = this.root.querySelector(".again");
      if (again) again.addEventListener("click", () => this.show());
      this.goTo(told.start);
    }

    chosenOnes() { return this.choices.map(control => control.type === "checkbox" ? Number(control.checked) : control.selectedIndex); }

    axis(place) { return this.set.axis(this.chosenOnes(), place); }

    value(place) { return this.axis(place)[Number(this.numbers[place].slider.value)]; }

    goTo(state) {
      this.choices.forEach((control, place) => {
        if (control.type === "checkbox") control.checked = Boolean(state.choices[place]);
        else control.selectedIndex = state.choices[place];
      });
      this.numbers.forEach((number, place) => {
        this.fitSlider(place, state.numbers[place]);
        number.typed.value = "";
      });
      this.known = this.numbers.map((_, place) => this.value(place));
      this.show();
    }

    fitSlider(place, value) {
      const axis = this.axis(place), slider = this.numbers[place].slider;
      slider.max = axis.length - 1;
      slider.value = nearest(axis, value);
    }

    chosen() {
      const combo = this.set.combo(this.chosenOnes()), said = [];
      this.numbers.forEach((number, place) => {
        const axis = this.axis(place), before = this.known[place], what = this.told.numbers[place];
        const inside = axis[0] <= before && before <= axis[axis.length - 1];
        this.fitSlider(place, inside ? before : combo.rest[place]);
        const now = this.value(place);
        if (Math.abs(now - before) > 1e-9) {
          said.push(inside ? `${capital(what.what)} is now ${this.written(place, now)}, the nearest that this page holds here.`
            : `${capital(what.what)} was ${this.written(place, before)}; here it goes from ${this.written(place, axis[0])} to ` +
              `${this.written(place, axis[axis.length - 1])}, so it was set to ${this.written(place, now)}.`);
          number.typed.value = "";
        }
        this.known[place] = now;
      });
      this.say(said.join(" "));
      this.show();
    }

    slid(place) {
      this.known[place] = this.value(place);
      this.numbers[place].typed.value = "";
      this.say("");
      this.show();
    }

    wasTyped(place) {
      const number = this.numbers[place], text = number.typed.value.trim(), what = this.told.numbers[place];
      if (!text) return;
      const read = readNumber(text, what);
      if (read === null) return this.say(`“${text.slice(0, 40)}” cannot be read as ${what.what}; write it like ${what.example}.`, true);
      const axis = this.axis(place), low = axis[0], high = axis[axis.length - 1];
      if (read < low - 1e-9 || read > high + 1e-9) {
        const hint = what.per100 && read / 100 >= low && read / 100 <= high ? ` If you mean ${read} mL per 100 g, write ${this.written(place, read / 100)}.` : "";
        return this.say(`${capital(what.what)} is given as ${read}; here it goes from ${this.written(place, low)} to ${this.written(place, high)}.${hint}`, true);
      }
      number.slider.value = nearest(axis, read);
      const now = this.known[place] = this.value(place);
      this.say(Math.abs(now - read) > 1e-9 ? `This page goes in steps: ${this.written(place, now)} is the nearest to ${read}.` : "");
      this.show();
    }

    written(place, value) {
      const what = this.told.numbers[place];
      return value.toFixed(what.decimals) + (what.unit ? " " + what.unit : "");
    }

    say(text, wrong) {
      this.message.textContent = text;
      this.message.classList.toggle("wrong", Boolean(wrong));
    }

    show() {
      this.numbers.forEach((number, place) => {
        const said = this.written(place, this.value(place));
        number.shown.textContent = said;
        number.slider.setAttribute("aria-valuetext", said);
      });
      const [pictures, table, words] = this.set.text(this.chosenOnes(), this.numbers.map(number => Number(number.slider.value))).split("<hr>");
      this.pictures.innerHTML = pictures;
      this.table.innerHTML = table;
      clearTimeout(this.waiting);
      this.waiting = setTimeout(() => { this.words.innerHTML = words; }, this.shownOnce ? PAUSE_MS : 0);
      this.shownOnce = true;
    }
  }

  function nearest(axis, value) {
    return axis.reduce((best, one, place) => Math.abs(one - value) < Math.abs(axis[best] - value) - 1e-12 ? place : best, 0);
  }

  const capital = text => text[0].toUpperCase() + text.slice(1);

  function readNumber(text, what) {
    const found = /^([-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+))\s*(.*)$/.exec(text);
    if (!found) return null;
    const number = Number(found[1].replace(",", ".")), unit = found[2].trim().toLowerCase().replace(/\.$/, "");
    if (unit === "" || unit === what.unit.toLowerCase()) return number;
    if (what.per100 && /^(ml|g)?\s*(of\s+)?(water\s+)?(per|\/|to|on)\s*100\s*(g|grams?)(\s*(of\s+)?powder)?$|^%$/.test(unit)) return number / 100;
    if (what.per100 && /^ml\s*(per|\/)\s*g$/.test(unit)) return number;
    return null;
  }

  const page = JSON.parse(unpacked(document.getElementById("page-data").textContent));
  const sets = page.sets.map(told => new Set_(told));
  window.takeHome = page.explorers.map(told => new Explorer(told, sets));
  document.documentElement.classList.add("ready");
})();
