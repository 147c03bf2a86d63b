# The plugin in its formats, and our own Standalone. The JUCE modules are not compiled again for it: it links
# plumbline_juce, and only the thin wrapper of each format is compiled here.
set(PLUMBLINE_LV2_URI "https://plumbline.invalid/plugins/plumbline")
set(formats VST3 LV2)
if(APPLE)
    list(APPEND formats AU)
endif()

juce_add_plugin(PlumblinePlugin
    PRODUCT_NAME "Plumbline"
    COMPANY_NAME "Plumbline"
    BUNDLE_ID invalid.plumbline.plugin
    PLUGIN_MANUFACTURER_CODE Plmb
    PLUGIN_CODE Plb1
    DESCRIPTION "Measures monitors from inside the session"
    FORMATS ${formats}
    LV2URI "${PLUMBLINE_LV2_URI}"
    VST3_CATEGORIES Fx Analyzer
    AU_MAIN_TYPE kAudioUnitType_Effect
    MICROPHONE_PERMISSION_ENABLED TRUE
    MICROPHONE_PERMISSION_TEXT "Plumbline listens to your monitors with your measuring microphone."
    EDITOR_WANTS_KEYBOARD_FOCUS TRUE)
target_sources(PlumblinePlugin PRIVATE Source/Entry/PluginEntry.cpp)
# Debian's JUCE takes the plugin's name for its LV2 address unless it is told so here too.
target_compile_definitions(PlumblinePlugin PUBLIC JucePlugin_LV2URI="${PLUMBLINE_LV2_URI}")
target_link_libraries(PlumblinePlugin PRIVATE plumbline_editor plumbline_plugin)

foreach(format IN LISTS formats)
    # The wrappers are JUCE's code, and the modules they use are those of plumbline_juce.
    target_link_libraries(PlumblinePlugin_${format} PRIVATE plumbline_juce)
    target_compile_options(PlumblinePlugin_${format} PRIVATE -w)
    if(CMAKE_SYSTEM_NAME STREQUAL "Linux")
        target_link_options(PlumblinePlugin_${format} PRIVATE -Wl,--gc-sections)
    endif()
endforeach()

# JUCE 7.0.5 does not say in the LV2 bundle which ports are the side-chain; hosts ask for it.
find_package(Python3 REQUIRED COMPONENTS Interpreter)
add_custom_command(TARGET PlumblinePlugin_LV2 POST_BUILD
    COMMAND ${Python3_EXECUTABLE} ${PROJECT_SOURCE_DIR}/scripts/mark_sidechain.py
            "$<TARGET_FILE_DIR:PlumblinePlugin_LV2>/dsp.ttl" Return
    VERBATIM)

juce_add_gui_app(PlumblineStandalone
    PRODUCT_NAME "plumbline-standalone"
    COMPANY_NAME "Plumbline"
    BUNDLE_ID invalid.plumbline.standalone
    MICROPHONE_PERMISSION_ENABLED TRUE
    MICROPHONE_PERMISSION_TEXT "Plumbline listens to your monitors with your measuring microphone.")
target_sources(PlumblineStandalone PRIVATE Source/Entry/Standalone.cpp)
target_link_libraries(PlumblineStandalone PRIVATE plumbline_warnings plumbline_editor plumbline_plugin)
target_link_libraries(PlumblineStandalone PRIVATE plumbline_standalone)
