"use strict";
(function () {
  var box = document.getElementById("search"), field = document.getElementById("words"), found = document.getElementById("found");
  var plain = function (text) { return text.toLowerCase().replace(/\s+/g, " "); };
  var groups = Array.prototype.map.call(document.querySelectorAll("main section"), function (section) {
    var area = section.querySelector("h2").textContent;
    var notices = Array.prototype.map.call(section.querySelectorAll("li"), function (item) {
      return { item: item, words: plain(item.textContent + " " + area + " " + (item.getAttribute("data-link") || "")) };
    });
    return { section: section, notices: notices };
  });
  var search = function () {
    var words = plain(field.value).split(" "), count = 0;
    groups.forEach(function (group) {
      var any = false;
      group.notices.forEach(function (notice) {
        var fits = words.every(function (word) { return notice.words.indexOf(word) >= 0; });
        notice.item.hidden = !fits;
        any = any || fits;
        count += fits ? 1 : 0;
      });
      group.section.hidden = !any;
    });
    found.textContent = field.value.trim() === "" ? "" : count === 1 ? "1 notice" : count + " notices";
  };
  box.hidden = false;
  field.addEventListener("input", search);
  search();
})();
