-- A session in Ardour's Lua interpreter, the loop closed through its dummy engine. Called by ardour.sh:
--   ardour7-lua ardour.lua ACTION SESSION_FOLDER key=value ...
--
--   ACTION  new     a session: a stereo bus with the plugin, whose Return hears what the master plays
--           again   the same session, loaded once more
--           render  the same session, its first two seconds rendered to export/render.wav
--
--   type=VST3|LV2 id=UID|URI   the plugin
--   rate=48000 block=256       of the dummy engine
--   speed="10x Speed"          how fast the dummy engine's time runs
--   hears=microphone           what the Return is given: microphone (first channel alone), loopback (both channels),
--                              muted (connected, and nothing plays there)
--   start=automation|hook|none what starts the take: the parameter called in trigger=, from 0 to 1 in an automation
--                              lane one second into the session; or a build for tests starts it by itself
--   lane=drawn                 draws that lane without playing it: a render will
--   takes=N limit=SECONDS      waits until N takes are on disk below trials=FOLDER, no longer than that
--   source=SinGen              puts that Lua processor before the plugin, to stand for the mix
--
-- Prints "KEY value ..." lines, flushed, because the host may abort after a render.

local action, folder = arg[1], arg[2]
local option = { rate = "48000", block = "256", speed = "10x Speed", hears = "microphone", start = "none",
	trigger = "Start take", takes = "0", limit = "60" }
for i = 3, #arg do
	local key, value = arg[i]:match ("^(%w+)=(.*)$")
	assert (key, "not key=value: " .. arg[i])
	option[key] = value
end
local rate = tonumber (option.rate)
local before_loading, after_loading = 0, 0 -- samples that the engine had run
local by_hand = ARDOUR.TransportRequestSource.TRS_UI

local function say (key, ...)
	local words = { ... }
	for i = 1, #words do words[i] = tostring (words[i]) end
	io.stdout:write (key, " ", table.concat (words, " "), "\n")
	io.stdout:flush ()
end

-- The dummy engine: what is played on playback_n comes back on capture_n, one block later.
local function start_engine ()
	ARDOUR.config ():set_port_resampler_quality (0) -- Ardour's own 17 adds 16 samples at each physical port
	local backend = AudioEngine:set_backend ("None (Dummy)", "", "")
	assert (not backend:isnil (), "this host has no dummy engine")
	backend:set_device_name ("Loopback")
	backend:set_driver (option.speed)
	backend:set_sample_rate (rate)
	backend:set_buffer_size (tonumber (option.block))
end

-- Parameters that can be set: name to number. Says each with its value.
local function parameters (plugin)
	local inside = plugin:to_insert ():plugin (0)
	local found, n = {}, 0
	for i = 0, inside:parameter_count () - 1 do
		if inside:parameter_is_control (i) and inside:parameter_is_input (i) then
			found[inside:parameter_label (i)] = n
			say ("PARAMETER", n, inside:parameter_label (i), "=", (ARDOUR.LuaAPI.get_processor_param (plugin, n, true)))
			n = n + 1
		end
	end
	return found
end

local function number_of (found, name)
	assert (found[name], "the host sees no parameter called " .. name)
	return found[name]
end

-- Takes on disk that their trial names.
local function takes_on_disk ()
	if not option.trials then return 0 end
	local pipe = io.popen ("for a in '" .. option.trials .. "'/*/takes/*/analysis.json; do t=${a%/analysis.json}; "
		.. 'grep -qs "\\"${t##*/}\\"" "${t%/takes/*}/trial.json" && echo; done | wc -l')
	local count = tonumber (pipe:read ("*a"))
	pipe:close ()
	return count
end

local function connect_return (bus, plugin)
	local insert = plugin:to_insert ()
	if not insert:has_sidechain () then say ("SIDECHAIN added", bus:add_sidechain (plugin)) end
	local input = insert:sidechain_input ()
	say ("SIDECHAIN ports", input:n_ports ():n_audio ())
	for i = 1, input:n_ports ():n_audio () do
		local from = option.hears == "muted" and "system:capture_3" or "system:capture_1"
		input:audio (i - 1):disconnect_all ()
		if i == 1 or option.hears ~= "microphone" then
			say ("CONNECTED Return", i, from, input:audio (i - 1):connect (from))
		end
	end
end

-- Both sides of the master on one wire: a microphone hears both monitors.
local function connect_master ()
	local master = Session:master_out ():output ()
	master:disconnect_all (nil)
	for i = 1, 2 do say ("CONNECTED master", i, master:audio (i - 1):connect ("system:playback_1")) end
end

-- Off until the first second, then on, in a lane that the transport plays.
local function draw_automation (plugin, parameter)
	local _, lane = ARDOUR.LuaAPI.plugin_automation (plugin, parameter)
	lane:add (Temporal.timepos_t (0), 0, false, true)
	lane:add (Temporal.timepos_t (rate - 1), 0, false, true)
	lane:add (Temporal.timepos_t (rate), 1, false, true)
	local id = plugin:to_insert ():plugin (0):nth_parameter (parameter, false)
	local control = plugin:to_automatable ():automation_control (
		Evoral.Parameter (ARDOUR.AutomationType.PluginAutomation, 0, id), false)
	control:set_automation_state (ARDOUR.AutoState.Play)
end

local function roll_from_the_start ()
	Session:request_locate (0, false, ARDOUR.LocateTransportDisposition.RollIfAppropriate, by_hand)
	Session:request_roll (by_hand)
end

-- Starts the take, waits until it is on disk, and says what was heard on the bus meanwhile.
local function take (bus, plugin, found)
	if option.start == "none" then return end
	if option.start == "automation" then
		local trigger = number_of (found, option.trigger)
		if action == "new" then draw_automation (plugin, trigger) end
		roll_from_the_start ()
	end
	local wanted, waited = tonumber (option.takes), 0
	while takes_on_disk () < wanted and waited < tonumber (option.limit) do
		sleep (0.2)
		waited = waited + 0.2
	end
	say ("WAITED", string.format ("%.1f", waited))
	sleep (0.5)
	say ("HEARD", string.format ("%.3f %.3f", bus:peak_meter ():meter_level (0, ARDOUR.MeterType.MeterMaxPeak),
		bus:peak_meter ():meter_level (1, ARDOUR.MeterType.MeterMaxPeak)))
	say ("TAKES", takes_on_disk ())
	Session:request_stop (false, false, by_hand)
	sleep (0.3)
end

-- Two seconds (282240000 ticks each): without a range of its own a session cannot be rendered.
local function give_range (path)
	local file = io.open (path)
	local xml = file:read ("*a")
	file:close ()
	xml = xml:gsub ("<Locations/>", '<Locations><Location id="999001" name="session" start="a0" end="a564480000" '
		.. 'flags="IsSessionRange" locked="0" cue="0"/></Locations>', 1)
	file = io.open (path, "w")
	file:write (xml)
	file:close ()
end

local function new_session ()
	Session = create_session (folder, "session", rate)
	assert (Session, "no session could be made")
	local bus = Session:new_audio_route (2, 2, nil, 1, "Monitors", ARDOUR.PresentationInfo.Flag.AudioBus,
		ARDOUR.PresentationInfo.max_order):front ()
	local plugin = ARDOUR.LuaAPI.new_plugin (Session, option.id, ARDOUR.PluginType[option.type], "")
	assert (not plugin:isnil (), "the host does not find the plugin " .. option.id)
	say ("INSERTED", bus:add_processor_by_index (plugin, 0, nil, true))
	if option.source then
		local source = ARDOUR.LuaAPI.new_luaproc (Session, option.source)
		assert (not source:isnil (), "the host has no source called " .. option.source)
		say ("SOURCE", option.source, bus:add_processor_by_index (source, 0, nil, true))
	end
	return bus, plugin
end

local function plugin_of (bus)
	local first = bus:nth_plugin (0)
	return first:to_insert ():type () == ARDOUR.PluginType.Lua and bus:nth_plugin (1) or first
end

local function render ()
	local export = Session:simple_export ()
	export:set_preset (option.preset)
	export:set_folder (folder .. "/export")
	export:set_name ("render")
	export:set_range (0, 2 * rate)
	-- Samples that the plugin has been given by now: no more than the first figure, no fewer than the second.
	local now = AudioEngine:processed_samples ()
	say ("BEFORE", now - before_loading, now - after_loading)
	say ("RENDERED", export:run_export ())
	sleep (1) -- a take that began in the render or after it would show itself
	say ("TAKES", takes_on_disk ())
end

assert (action == "new" or action == "again" or action == "render", "ACTION is new, again or render")
start_engine ()
local bus, plugin
before_loading = AudioEngine:processed_samples ()
if action == "new" then
	bus, plugin = new_session ()
else
	Session = load_session (folder, "session")
	assert (Session, "the session could not be loaded")
	bus = Session:route_by_name ("Monitors")
	plugin = plugin_of (bus)
end
after_loading = AudioEngine:processed_samples ()
if action ~= "render" then
	connect_return (bus, plugin)
	connect_master ()
end
sleep (0.5)
local found = parameters (plugin)
if action == "render" then
	render ()
else
	if option.lane then draw_automation (plugin, number_of (found, option.trigger)) end
	take (bus, plugin, found)
	say ("XRUNS", Session:get_xrun_count ())
	Session:save_state ("", false, false, false, false, false)
	say ("SAVED", Session:path ())
	if action == "new" then give_range (folder .. "/session.ardour") end
end
close_session ()
quit ()
